"""A key without values where the question has some."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say, sentence
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-undefined",
    severity="error",
    title="Key undefined",
    meaning=(
        "The key has no value on a part of the line where the function of the question is defined, so it does not "
        "answer the question there."
    ),
    mend="Give a key for the whole domain, or restrict the question with `domain`.",
    wrong="question: \\int \\frac{1}{x} \\, dx\nkey: \\ln x + C",
    right="question: \\int \\frac{1}{x} \\, dx\nkey: \\ln|x| + C",
)
_AT = sentence("It has no value at {place}, where the question has one.")
_FOR = sentence("It has no value for {place}, where the question has one.")


@dataclass(frozen=True, slots=True)
class UndefinedKey:
    """`place` is a point (`-1`) or a stretch (`x < 0`) where the key has no value."""

    code: ClassVar[str] = KIND.code
    span: Span
    place: str
    variable: str = "x"


def diagnose(fact: UndefinedKey) -> Diagnostic:
    at_point = "=" not in fact.place and "<" not in fact.place
    place = f"{fact.variable} = {fact.place}" if at_point else fact.place
    said = _AT if at_point else _FOR
    notes = (say(said, place=place),) if fact.place else ()
    return KIND.at(fact.span, say("This key is undefined where the question is not."), notes=notes)
