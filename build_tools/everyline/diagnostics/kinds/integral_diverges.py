"""A value for an integral that has none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import figure, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="integral-diverges",
    severity="error",
    title="Integral diverges",
    meaning="The integral of the question has no value, because the area under the curve is not finite; the key gives it one.",
    mend="Write `diverges` as the key, or change the limits.",
    wrong="question: \\int_{-1}^{1} \\frac{1}{x^2} \\, dx\nkey: -2",
    right="question: \\int_{-1}^{1} \\frac{1}{x^2} \\, dx\nkey: diverges",
)


@dataclass(frozen=True, slots=True)
class DivergentQuestion:
    """`place` is the pole, or the end, where it diverges."""

    code: ClassVar[str] = KIND.code
    span: Span
    place: str = ""
    variable: str = "x"


def diagnose(fact: DivergentQuestion) -> Diagnostic:
    note = say("It fails at {variable} = {place}.", variable=fact.variable, place=figure(fact.place)) if fact.place else None
    return KIND.at(fact.span, say("This integral diverges, so the key cannot be its value."), notes=(note,))
