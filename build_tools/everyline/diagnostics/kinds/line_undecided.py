"""A line of a hand-written solution that could not be decided."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="line-undecided",
    severity="error",
    title="Line could not be decided",
    meaning="The line could be neither proved nor refuted, and nothing is shown that has not been checked.",
    mend="Put a simpler line in between, or write this one in another form.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class UndecidedLine:
    """`number` counts from 1; `reason` says more."""

    code: ClassVar[str] = KIND.code
    span: Span
    number: int
    reason: Message | None = None


def diagnose(fact: UndecidedLine) -> Diagnostic:
    return KIND.at(fact.span, say("Line {number} of this solution could not be decided.", number=fact.number), notes=(fact.reason,))
