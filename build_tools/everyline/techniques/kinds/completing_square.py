"""Completing the square in a quadratic under a fraction bar or a root."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.poly import coefficients, factors, rational_function
from ...algebra.terms import Term, as_node, term_of
from ...algebra.tidy import join
from ...notation.build import ONE, multiply
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Node, Root, Sum
from ..asking import constant_and_rest, integral
from ..base import Example, Shown, Step, Technique
from ..quadratics import completed


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    term = term_of(rest)
    fraction = rational_function(rest, question.variable)
    if fraction is not None and len(fraction[1]) > 1:
        return  # fractions first
    for base, exponent in term.powers:
        if not isinstance(base, Sum) or not isinstance(exponent, Fraction) or (exponent.denominator == 1 and exponent > 0):
            continue
        if exponent.denominator == 1 and _splits(base, question.variable):
            continue
        square = completed(base, question.variable)
        if square is None:
            continue
        new = _written(term.without(base), square, exponent)
        reason = say("Complete the square.")
        shown = Shown("equal", base, square)
        yield Step("completing-square", integral(new, question.variable, constant if constant != ONE else None), reason, detail=(shown,))


def _splits(base: Node, variable: str) -> bool:
    values = coefficients(base, variable)
    return values is not None and len(factors(values)[1]) > 1


def _written(rest: Term, square: Node, exponent: Fraction) -> Node:
    """The rest times the completed square to its power, written without tidying the square away."""
    if exponent == Fraction(1, 2):
        return multiply(join(rest), Root(square))
    return join(Term(rest.coefficient, (*rest.powers, (square, exponent)))) if exponent else as_node(exponent)


TECHNIQUE = Technique(
    id="completing-square",
    title="Completing the square",
    cost=2.5,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{x^2 + 8x + 25} \, dx"),
        Example(r"\int \frac{1}{\sqrt{6x - x^2}} \, dx"),
        Example(r"\int \sqrt{x^2 - 2x + 10} \, dx"),
        Example(r"\int \frac{1}{x^2 + 8} \, dx", applies=False),
        Example(r"\int \frac{1}{x^2 - 5x + 6} \, dx", applies=False),
    ),
    explains="ax² + bx + c is a times a square plus a constant; then a standard form fits.",
)
