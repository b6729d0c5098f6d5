"""The constant of an antiderivative: any will do, and one of them may let a factor cancel."""

from __future__ import annotations

from fractions import Fraction

from ..algebra.common import in_whole_numbers
from ..algebra.poly import coefficients, linear, polynomial
from ..algebra.terms import term_of
from ..algebra.tidy import tidy
from ..notation.build import ONE, ZERO, divide, multiply, number, rational, within_bars
from ..notation.tree import Call, Name, Node


def fitted(first: Node, v: Node, variable: str) -> tuple[Node, Node] | None:
    """(v with a constant more, the line that then cancels) where a power of ln of a line is differentiated and v is a polynomial.

    For ln(x - 2) and v = x that is x - 2, for ln(x + 3) and v = x^2/2 it is (x^2 - 9)/2; None where nothing is gained.
    """
    inside = _inside(first)
    line = None if inside is None else linear(inside, variable)
    if inside is None or line is None or line[1] == ZERO:
        return None
    if v == Name(variable):
        return tidy(divide(inside, line[0])), inside
    a, b = rational(line[0]), rational(line[1])
    values = coefficients(v, variable)
    if a is None or b is None or values is None or len(values) > 4:
        return None
    zero = -b / a
    there = sum((c * zero**k for k, c in enumerate(values)), start=Fraction(0))
    if there == 0:
        return None
    scale = values[-1]
    moved = polynomial(tuple((c - there * (k == 0)) / scale for k, c in enumerate(values)), Name(variable))
    return tidy(multiply(*in_whole_numbers(number(scale), moved))), inside


def _inside(first: Node) -> Node | None:
    powers = term_of(first).powers
    base = powers[0][0] if len(powers) == 1 else ONE
    if not isinstance(base, Call) or base.function != "ln":
        return None
    return within_bars(base.argument)
