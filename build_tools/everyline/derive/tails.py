"""What lets the kernel enclose an integral up to infinity that has no elementary antiderivative: bounds for what lies beyond a cut."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from ..algebra.numbers import number_of
from ..algebra.poly import by_degree, coefficients, rational_function
from ..algebra.terms import as_node, term_of
from ..algebra.tidy import join, tidy
from ..kernel import Tail
from ..notation.build import E, add, call, divide, infinite, multiply, names, negate, number, power, substitute
from ..notation.tree import Integral, Name, Node
from ..techniques.asking import differentiate

#: Beyond its cut an exponential is below e^(-64): more digits than are asked for. Cuts are powers of two, this one at most.
SMALL, FARTHEST = 64, 2**9


def tails(node: Integral) -> tuple[Tail, ...]:
    """A tail for each infinite end of an integral of r·e^w, where the polynomial w falls to -∞ there and r is no steeper than a power."""
    return tuple(tail for end in (node.lower, node.upper) if end and infinite(end) for tail in _tail(node, end))


def _tail(node: Integral, end: Node) -> Iterator[Tail]:
    x, term = node.variable, term_of(tidy(node.integrand))
    w, r = as_node(term.exponent(E)), join(term.without(E))
    cut = _cut(w, x, infinite(end))
    if cut is None or x not in names(w):
        return
    # With g = e^(w + n ln|x|) = |x|ⁿ e^w the integrand is g′ times r/(|x|ⁿ (w′ + n/x)), which is small.
    fraction = rational_function(r, x)
    n, away = number(len(fraction[0]) - 1 if fraction else 0), Name(x) if infinite(end) > 0 else negate(Name(x))
    growth = add(w, multiply(n, call("ln", away)))
    factor = tidy(divide(r, multiply(power(away, n), differentiate(growth, x))))
    size = number_of(substitute(factor, {x: cut}))
    scale = number(ceil(2 * abs(float(size))) + 1 if size is not None and size.is_finite() else 1)
    low, high = (cut, end) if infinite(end) > 0 else (end, cut)
    yield Tail(low, high, multiply(scale, power(E, growth)), tidy(divide(factor, scale)))


def _cut(w: Node, x: str, side: int) -> Node | None:
    """Where e^w is small, on this side of zero; with parameters a place where it is so for most of their values."""
    values = coefficients(w, x)
    if values is None:
        return None if by_degree(w, x) is None else number(side * SMALL)
    places = (Fraction(side * 2**k) for k in range(FARTHEST.bit_length()))
    found = next((place for place in places if sum(c * place**k for k, c in enumerate(values)) < -SMALL), None)
    return None if found is None else number(found)
