"""A key in another variable."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-variable",
    severity="error",
    title="Another variable",
    meaning="The key is written in another letter than the question.",
    mend="Write the key in the variable of the question.",
    wrong="question: \\int t^2 \\, dt\nkey: \\frac{x^3}{3} + C",
    right="question: \\int t^2 \\, dt\nkey: \\frac{t^3}{3} + C",
)


@dataclass(frozen=True, slots=True)
class WrongVariable:
    """`name` is the letter of the key and `variable` that of the question."""

    code: ClassVar[str] = KIND.code
    span: Span
    name: str
    variable: str


def diagnose(fact: WrongVariable) -> Diagnostic:
    return KIND.at(fact.span, say("The key is in `{name}`, the question in `{variable}`.", name=fact.name, variable=fact.variable))
