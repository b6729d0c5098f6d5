"""∫ dx/√(9 - x²) = arcsin x: the inside was not divided by a."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import isqrt

from ...notation.build import ONE, divide, multiply, number, root, walk
from ...notation.question import Question
from ...notation.tree import Call, Name, Node, Number
from ..answers import coefficient, exact, rewrites, scale, slope
from ..base import Example, Slip
from .inverse_trig_constant import INVERSE


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable

    def bare(node: Node) -> Iterator[Node]:
        if isinstance(node, Call) and node.function in INVERSE and slope(node.argument, x) not in (None, ONE):
            _, _, core = coefficient(node.argument, x)
            yield Call(node.function, core)

    return rewrites(right, bare)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    x = question.variable
    scales = _scales(question.body)

    def scaled(node: Node) -> Iterator[Node]:
        if isinstance(node, Call) and node.function in INVERSE:
            for a in scales:
                plain = isinstance(node.argument, Name)
                smaller = divide(node.argument, a) if plain else scale(node.argument, divide(ONE, a), x)
                yield Call(node.function, smaller)
                yield Call(node.function, multiply(a, node.argument))

    return rewrites(claimed, scaled)


def _scales(body: Node) -> tuple[Node, ...]:
    """The square roots of the integrand's numbers: the a of a² ± x²."""
    found: dict[Node, None] = {}
    for part in walk(body):
        value = exact(part)
        if value is not None and value > 1 and value.denominator == 1:
            whole = isqrt(value.numerator)
            found[number(Fraction(whole)) if whole * whole == value else root(Number(value))] = None
    return tuple(found)


SLIP = Slip(
    id="inverse-trig-argument",
    title="The inside of an inverse trigonometric function was not scaled",
    explains="The inside of {fault} is not scaled: take the number out of a² - x² or a² + x² first, so that x/a is squared.",
    hint="Write the denominator with 1 in place of its number. What is squared then?",
    kinds=("indefinite",),
    rank=1,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int \frac{1}{\sqrt{36 - x^2}} \, dx", r"\arcsin\frac{x}{6} + C", r"\arcsin x + C"),
        Example(r"\int \frac{1}{x^2 + 49} \, dx", r"\frac{1}{7} \arctan\frac{x}{7} + C", r"\frac{1}{7} \arctan x + C"),
    ),
)
