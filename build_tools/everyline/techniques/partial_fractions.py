"""Partial fractions: a proper fraction over a denominator that factors."""

from __future__ import annotations

from collections.abc import Iterable
from math import lcm

from ..algebra.poly import Coefficients, factors, partial_fractions, polynomial, rational_function
from ..algebra.tidy import tidy
from ..notation.build import ONE, add, divide, multiply, number, power
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Name, Node
from .asking import constant_and_rest, integral
from .base import Example, Shown, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    found = rational_function(rest, question.variable)
    if found is None or not found[1]:
        return
    top, written = found
    scale = number(1)
    merged: dict[Coefficients, int] = {}
    for values, times in written:
        content, parts = factors(values)
        scale = tidy(multiply(scale, number(content**times)))
        for factor, n in parts:
            merged[factor] = merged.get(factor, 0) + n * times
    degree = sum((len(f) - 1) * n for f, n in merged.items())
    if len(top) - 1 >= degree or (len(merged) == 1 and (next(iter(merged.values())) == 1 or len(top) == 1)):
        return
    x = Name(question.variable)
    pieces = partial_fractions(top, list(merged.items()))
    if len(pieces) < 2:
        return
    terms = [_piece(a, tidy(multiply(scale, power(polynomial(f, x), n))), x) for a, f, n in pieces]
    whole = add(*terms)
    below = multiply(scale, *(power(polynomial(f, x), n) for f, n in merged.items()))
    detail = (Shown("equal", tidy(rest), divide(polynomial(top, x), below), say("Factor the denominator.")),)
    reason = say("Split into partial fractions.")
    result = integral(tidy(whole), question.variable, constant if constant != ONE else None)
    yield Step("partial-fractions", result, reason, detail=detail, extra_cost=0.3 * len(pieces))


def _piece(top: Coefficients, bottom: Node, x: Node) -> Node:
    """One fraction, its numbers whole."""
    below = lcm(*(c.denominator for c in top))
    return tidy(divide(polynomial(tuple(c * below for c in top), x), multiply(number(below), bottom)))


TECHNIQUE = Technique(
    id="partial-fractions",
    title="Partial fractions",
    cost=4.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{5}{(x - 2)(x + 3)} \, dx"),
        Example(r"\int \frac{2x + 1}{x^2(x + 4)} \, dx"),
        Example(r"\int \frac{x + 7}{x(x^2 + 1)} \, dx"),
        Example(r"\int \frac{1}{x^2 + 1} \, dx", applies=False),
        Example(r"\int \frac{x^3}{x^2 - 1} \, dx", applies=False),
    ),
    after=("table",),
    explains="A proper fraction whose denominator factors is a sum of simpler fractions.",
)
