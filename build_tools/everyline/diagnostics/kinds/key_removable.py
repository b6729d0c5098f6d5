"""A key with a gap that could be closed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import figure, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-removable",
    severity="warning",
    title="Key with a gap",
    meaning="The key has no value at single points where it could be continued. It is right everywhere else.",
    mend="Another form of the key may close the gap; or leave it, if your course does.",
    wrong="question: \\int \\frac{1}{1-\\sin x} \\, dx\nkey: \\tan x + \\sec x + C",
    right="",
)


@dataclass(frozen=True, slots=True)
class RemovableKey:
    """`place` is one such point."""

    code: ClassVar[str] = KIND.code
    span: Span
    place: str
    variable: str = "x"


def diagnose(fact: RemovableKey) -> Diagnostic:
    said = say("This key is right, but undefined at single points, where it could be continued.")
    if fact.place:
        said = say(
            "This key is right, but undefined at {variable} = {place}, where it could be continued.",
            variable=fact.variable,
            place=figure(fact.place),
        )
    return KIND.at(fact.span, said)
