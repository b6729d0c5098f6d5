"""A hand-written solution that does not reach the answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="line-ends-elsewhere",
    severity="error",
    title="Solution does not end",
    meaning=(
        "Every line follows from the one before, but the last one is not an answer: an integral, a derivative or a "
        "limit is still open, or a letter was not put back."
    ),
    mend="Add the lines that are missing.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class EndsElsewhere:
    """`ends_with` is the last line as text."""

    code: ClassVar[str] = KIND.code
    span: Span
    ends_with: str = ""


def diagnose(fact: EndsElsewhere) -> Diagnostic:
    note = say("It ends with {ends_with}.", ends_with=fact.ends_with) if fact.ends_with else None
    return KIND.at(fact.span, say("This solution stops before the answer."), notes=(note,))
