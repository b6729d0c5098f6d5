"""A question without a worked solution."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="solution-missing",
    severity="warning",
    title="No worked solution",
    meaning="The key is right, but no worked solution was found, and the file has none written by hand.",
    mend="Write one by hand in a block named `lines`; it is checked like the others.",
    wrong="",
    right="```lines\n= …\n```",
)


@dataclass(frozen=True, slots=True)
class NoSolution:
    """`reason` says why, if it is known."""

    code: ClassVar[str] = KIND.code
    span: Span
    reason: Message | None = None


def diagnose(fact: NoSolution) -> Diagnostic:
    return KIND.at(fact.span, say("No worked solution was found for this question."), notes=(fact.reason,))
