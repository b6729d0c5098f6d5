"""A logarithm that needs an absolute value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say, sentence
from ...source.span import Span
from ..diagnostic import Diagnostic, Replacement
from ..kind import Kind

KIND = Kind(
    code="key-absolute-value",
    severity="error",
    title="Absolute value missing",
    meaning=(
        "The key has a logarithm of something that is negative on a part of the domain; there the key has no value. "
        "With an absolute value inside the logarithm it is right on both sides."
    ),
    mend="Put the inside of the logarithm between bars, or restrict the question with `domain`.",
    wrong="question: \\int \\frac{1}{x} \\, dx\nkey: \\ln x + C",
    right="question: \\int \\frac{1}{x} \\, dx\nkey: \\ln|x| + C",
)
_NONE = sentence("At {variable} = {place} the question has a value and this key has none.")


@dataclass(frozen=True, slots=True)
class NeedsAbsoluteValue:
    """`place` is a point where the key has no value; `repaired` the key with the bars, if it passed the check."""

    code: ClassVar[str] = KIND.code
    span: Span
    place: str = ""
    repaired: str = ""
    variable: str = "x"


def diagnose(fact: NeedsAbsoluteValue) -> Diagnostic:
    note = say(_NONE, variable=fact.variable, place=fact.place) if fact.place else None
    replacement = Replacement(fact.span, fact.repaired) if fact.repaired else None
    return KIND.at(fact.span, say("The logarithm in this key needs an absolute value."), notes=(note,), replacement=replacement)
