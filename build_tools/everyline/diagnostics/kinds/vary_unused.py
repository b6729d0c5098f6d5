"""A letter of a family that its question does not use."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="vary-unused",
    severity="error",
    title="Letter not in the question",
    meaning="A letter under `vary` does not occur in the question, so its numbers change nothing.",
    mend="Use the letter in the question, or take it out of `vary`.",
)


@dataclass(frozen=True, slots=True)
class UnusedLetter:
    """`name` has numbers and no place in the question."""

    code: ClassVar[str] = KIND.code
    span: Span
    name: str


def diagnose(fact: UnusedLetter) -> Diagnostic:
    return KIND.at(fact.span, say("The question does not hold the letter `{name}`.", name=fact.name))
