"""A key without values where the question has some."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

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


@dataclass(frozen=True, slots=True)
class UndefinedKey:
    """`place` is a point (`-1`) or a stretch (`x < 0`) where the key has no value."""

    code: ClassVar[str] = KIND.code
    span: Span
    place: str
    variable: str = "x"


def diagnose(fact: UndefinedKey) -> Diagnostic:
    where = f"at {fact.variable} = {fact.place}" if "=" not in fact.place and "<" not in fact.place else f"for {fact.place}"
    notes = (f"It has no value {where}, where the question has one.",) if fact.place else ()
    return KIND.at(fact.span, "This key is undefined where the question is not.", notes=notes)
