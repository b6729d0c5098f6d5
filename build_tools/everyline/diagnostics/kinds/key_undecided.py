"""A key that could not be decided."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

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
    detail: str = ""


_REASONS = {
    "budget": "The check took longer than it may.",
    "nowhere-defined": "Question and key have no common point.",
    "needs-certificate": "No proof of this value was found.",
    "memory": "The check needs more memory than there is.",
    "depth": "It is nested too deeply for the checker.",
    "range": "A number in it is too large for the checker.",
    "fault": "The checker made a mistake of its own. Please report this question and its key.",
    "not-supported": "It has a form that the checker does not know.",
}


def diagnose(fact: UndecidedKey) -> Diagnostic:
    return KIND.at(fact.span, "This key could not be decided.", notes=(_REASONS.get(fact.reason, fact.reason), fact.detail))
