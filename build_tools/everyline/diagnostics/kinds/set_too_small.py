"""A set that asks for more problems than there are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say, sentence
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
_ONE = sentence("The set asks for {wanted} problems and only 1 fits.")
_NONE = sentence("The set asks for {wanted} problems and none fits.")


@dataclass(frozen=True, slots=True)
class SetTooSmall:
    """`wanted` problems were asked for and `found` are there."""

    code: ClassVar[str] = KIND.code
    span: Span
    wanted: int
    found: int


def diagnose(fact: SetTooSmall) -> Diagnostic:
    said = say("The set asks for {wanted} problems and only {found} fit.", wanted=fact.wanted, found=fact.found)
    if fact.found < 2:
        said = say(_ONE if fact.found else _NONE, wanted=fact.wanted)
    return KIND.at(fact.span, said)
