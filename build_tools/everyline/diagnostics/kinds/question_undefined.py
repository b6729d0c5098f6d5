"""A question about nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="question-undefined",
    severity="error",
    title="Nowhere defined",
    meaning="The function of the question is defined nowhere in its domain, so there is nothing to find.",
    mend="Look for a sign under a root or a logarithm, and at `domain` and `given`.",
    wrong="question: \\int \\sqrt{-1-x^2} \\, dx",
    right="question: \\int \\sqrt{1-x^2} \\, dx",
)


@dataclass(frozen=True, slots=True)
class UndefinedQuestion:
    """`reason` says more, if there is more to say."""

    code: ClassVar[str] = KIND.code
    span: Span
    reason: Message | None = None


def diagnose(fact: UndefinedQuestion) -> Diagnostic:
    return KIND.at(fact.span, say("The function of this question is defined nowhere."), notes=(fact.reason,))
