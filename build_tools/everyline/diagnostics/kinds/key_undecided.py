"""A key that could not be decided."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say, sentence
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-undecided",
    severity="error",
    title="Key could not be decided",
    meaning="The key could be neither proved nor refuted. It is not said to be wrong; but nothing is published that has not been checked.",
    mend="Write the key in another form, or answer for it yourself: `vouched: {name: your name, reason: how you know}`.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class UndecidedKey:
    """`reason` is the short code of the checker (`budget`, `not-supported`, …) and `detail` says more."""

    code: ClassVar[str] = KIND.code
    span: Span
    reason: str
    detail: Message | None = None


_REASONS = {
    "budget": sentence("The check took longer than it may."),
    "nowhere-defined": sentence("Question and key have no common point."),
    "needs-certificate": sentence("No proof of this value was found."),
    "memory": sentence("The check needs more memory than there is."),
    "depth": sentence("It is nested too deeply for the checker."),
    "range": sentence("A number in it is too large for the checker."),
    "fault": sentence("The checker made a mistake of its own. Please report this question and its key."),
    "not-supported": sentence("It has a form that the checker does not know."),
}


def diagnose(fact: UndecidedKey) -> Diagnostic:
    return KIND.at(fact.span, say("This key could not be decided."), notes=(Message(_REASONS.get(fact.reason, fact.reason)), fact.detail))
