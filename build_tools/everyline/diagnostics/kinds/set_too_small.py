"""A set that asks for more problems than there are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="set-too-small",
    severity="error",
    title="Not enough problems",
    meaning="The set asks for more problems than its chapters, levels and techniques have. In a mixed set only problems with a worked "
    "solution count, because the rule is about how solutions begin.",
    mend="Ask for fewer, or pick from more chapters or levels.",
    wrong="count: 80",
    right="count: 12",
)


@dataclass(frozen=True, slots=True)
class SetTooSmall:
    """`wanted` problems were asked for and `found` are there."""

    code: ClassVar[str] = KIND.code
    span: Span
    wanted: int
    found: int


def diagnose(fact: SetTooSmall) -> Diagnostic:
    there = "only 1 fits" if fact.found == 1 else "none fits" if not fact.found else f"only {fact.found} fit"
    return KIND.at(fact.span, f"The set asks for {fact.wanted} problems and {there}.")
