"""∫ dx/(x² + 9) = arctan(x/3): the factor 1/a of the arctangent, forgotten, doubled or given to the arcsine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from ...notation.build import ONE, divide, walk
from ...notation.question import Question
from ...notation.tree import Call, Node
from ..answers import coefficient, scale, slope, with_one_term
from ..base import Example, Slip

INVERSE = ("arcsin", "arccos", "arctan", "arccot", "arcsec", "arccsc")


def _factors(term: Node, x: str) -> Iterator[Node | Fraction]:
    """The a, b and a/b of an inside bx/a."""
    for part in walk(term):
        if isinstance(part, Call) and part.function in INVERSE:
            found = slope(part.argument, x)
            if found is None or found == ONE:
                continue
            ratio, constant, _ = coefficient(found, x)
            if constant != ONE:
                yield found
            yield from (Fraction(n) for n in (abs(ratio.numerator), ratio.denominator) if n != 1)
            yield ratio


def change(question: Question, answer: Node) -> Iterable[Node]:
    x = question.variable

    def scaled(term: Node) -> Iterator[Node]:
        for factor in _factors(term, x):
            yield scale(term, factor, x)
            yield scale(term, 1 / factor if isinstance(factor, Fraction) else divide(ONE, factor), x)

    return with_one_term(answer, x, scaled)


SLIP = Slip(
    id="inverse-trig-constant",
    title="The constant of an inverse trigonometric function",
    explains="The factor in front of {fault} is wrong: the derivative of arctan(x/a) is a/(a² + x²), that of arcsin(x/a) has no a on top.",
    hint="Differentiate the inverse function with x/a inside and compare the factors.",
    kinds=("indefinite",),
    rank=1,
    leads_to=change,
    repairs=change,
    examples=(
        Example(r"\int \frac{1}{x^2 + 49} \, dx", r"\frac{1}{7} \arctan\frac{x}{7} + C", r"\arctan\frac{x}{7} + C"),
        Example(r"\int \frac{1}{\sqrt{36 - x^2}} \, dx", r"\arcsin\frac{x}{6} + C", r"\frac{1}{6} \arcsin\frac{x}{6} + C"),
        Example(r"\int \frac{1}{1 + 64x^2} \, dx", r"\frac{1}{8} \arctan 8x + C", r"\arctan 8x + C"),
    ),
)
