"""A problem that took longer than it may."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="out-of-time",
    severity="error",
    title="Out of time",
    meaning="Every problem has a limit of time and memory, so that one file cannot stop a book. This one went over it.",
    mend="Make the question or the key simpler.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class OutOfTime:
    """`seconds` is the limit that it reached; `what` ran out: `time` or `memory`."""

    code: ClassVar[str] = KIND.code
    span: Span
    seconds: float
    what: str = "time"


def diagnose(fact: OutOfTime) -> Diagnostic:
    stopped = say("It was stopped after {seconds} seconds.", seconds=f"{fact.seconds:.0f}")
    ran_out = stopped if fact.what == "time" else say("It needed more memory than it may.")
    return KIND.at(fact.span, say("This problem could not be examined within its limits."), notes=(ran_out,))
