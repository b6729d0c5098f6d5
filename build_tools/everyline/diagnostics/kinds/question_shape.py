"""A question that asks for nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="question-shape",
    severity="error",
    title="Not a question",
    meaning="A question is an integral, a derivative or a limit to find.",
    mend="Write an integral `\\int … \\, dx`, a derivative `\\frac{d}{dx} …` or a limit `\\lim_{x \\to a} …`.",
    wrong="question: x^2",
    right="question: \\int x^2 \\, dx",
)


@dataclass(frozen=True, slots=True)
class NotAQuestion:
    """`found` is what the text was read as."""

    code: ClassVar[str] = KIND.code
    span: Span
    found: str = ""
    reason: Message | None = None


def diagnose(fact: NotAQuestion) -> Diagnostic:
    return KIND.at(fact.span, say("This is not an integral, a derivative or a limit."), notes=(fact.reason,))
