"""Square roots of perfect squares, which are absolute values."""

from __future__ import annotations

from fractions import Fraction

from ..algebra.fraction import one_fraction
from ..algebra.poly import coefficients as polynomial_coefficients
from ..algebra.poly import factors, polynomial
from ..algebra.terms import term_of
from ..algebra.tidy import tidy
from ..notation.build import ONE, TWO, call, divide, multiply, names, number, power, rational, rebuild, replace, root, walk
from ..notation.tree import Absolute, Call, Equation, Name, Negative, Node, Power, Product, Quotient, Root, Sum


def with_bars(node: Node) -> Node:
    """Every square root of a perfect square as an absolute value: √(x² + 2x + 1) is |x + 1|."""
    if isinstance(node, Root) and node.index == 2:
        outside, squared = _numbers_apart(node.radicand)
        inside = _rooted(squared)
        if inside is not None:
            return multiply(root(outside), Absolute(inside)) if outside != ONE else Absolute(inside)
        if isinstance(node.radicand, Sum | Quotient):
            return _over_a_root(node)
    return rebuild(node, with_bars)


def half_angle_squares(node: Node) -> tuple[Node, Equation | None]:
    """Every √(1 ± cos u) with the square of the half angle below the root, and the identity; none where there is no such root."""
    for part in walk(node):
        terms = part.radicand.terms if isinstance(part, Root) and part.index == 2 and isinstance(part.radicand, Sum) else ()
        cosines = [t.argument if isinstance(t, Negative) else t for t in terms if t != ONE]
        if len(terms) != 2 or len(cosines) != 1 or not isinstance(part, Root):
            continue
        (cosine,) = cosines
        if isinstance(cosine, Call) and cosine.function == "cos":
            half = call("cos" if cosine in terms else "sin", tidy(divide(cosine.argument, TWO)))
            square = multiply(TWO, power(half, 2))
            found, _ = half_angle_squares(replace(node, part, root(square)))
            return found, Equation(part.radicand, square)
    return node, None


def _over_a_root(node: Root) -> Node:
    """√(g²/h) as |g|/√h; the node itself where it is no such root."""
    used = names(node.radicand)
    one = one_fraction(node.radicand, next(iter(used))) if len(used) == 1 else None
    if not isinstance(one, Quotient):
        return node
    above = _rooted(one.top)
    return node if above is None else divide(Absolute(above), root(one.bottom))


def _numbers_apart(radicand: Node) -> tuple[Node, Node]:
    """A number in front of a power, and the power: 2 and sin² x."""
    if isinstance(radicand, Product) and len(radicand.factors) == 2 and isinstance(radicand.factors[1], Power):
        first = rational(radicand.factors[0])
        if first is not None and first > 0:
            return radicand.factors
    return ONE, radicand


def _rooted(radicand: Node) -> Node | None:
    """g where the radicand is g², g not constant."""
    if isinstance(radicand, Quotient):
        top, bottom = _rooted(radicand.top), _rooted(radicand.bottom)
        return None if top is None or bottom is None else divide(top, bottom)
    if isinstance(radicand, Power):
        term = term_of(radicand)
        if term.coefficient == 1 and all(isinstance(e, Fraction) and e.denominator == 1 and e % 2 == 0 for _, e in term.powers):
            return multiply(*(power(b, number(e / 2)) for b, e in term.powers if isinstance(e, Fraction)))
    used = names(radicand)
    if len(used) != 1:
        return None
    (x,) = used
    values = polynomial_coefficients(radicand, x)
    if values is None or len(values) < 3:
        return None
    content, found = factors(values)
    if content <= 0 or any(k % 2 for _, k in found):
        return None
    return multiply(root(number(content)), *(power(polynomial(f, Name(x)), k // 2) for f, k in found))
