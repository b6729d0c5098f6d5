"""A number miscalculated somewhere inside the answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import isqrt

from ...notation.build import number
from ...notation.question import Question
from ...notation.tree import Node, Number
from ..answers import rewrites
from ..base import Example, Slip


def _near(node: Node) -> Iterator[Node]:
    if isinstance(node, Number):
        for other in (node.value + 1, node.value - 1, node.value * 2, node.value / 2, *_squared(node.value)):
            if other != node.value:
                yield number(other)


def _squared(value: Fraction) -> tuple[Fraction, ...]:
    """The square of a number, and what it is the square of."""
    whole = isqrt(value.numerator)
    found = (value**2,) if value < 1000 else ()
    return (*found, Fraction(whole)) if value.denominator == 1 and whole**2 == value else found


def change(question: Question, answer: Node) -> Iterable[Node]:
    return rewrites(answer, _near)


SLIP = Slip(
    id="number-slip",
    title="A number was miscalculated",
    explains="The number at {fault} is off.",
    hint="Work out the numbers once more.",
    kinds=("indefinite", "derivative", "definite", "limit"),
    rank=8,
    leads_to=change,
    repairs=change,
    examples=(
        Example(r"\int 5^{2x} \, dx", r"\frac{25^x}{\ln 25} + C", r"\frac{24^x}{\ln 25} + C"),
        Example(r"\int_0^2 x^3 + 1 \, dx", r"6", r"7"),
    ),
)
