"""One fraction of two polynomials out of any expression that adds, multiplies, divides and raises to whole powers."""

from __future__ import annotations

from fractions import Fraction

from flint import fmpq, fmpq_poly

from ..notation.build import ONE, divide, multiply, number, power, rational
from ..notation.tree import Name, Negative, Node, Power, Product, Quotient, Sum
from .poly import LARGEST, Coefficients, factors, polynomial

Pair = tuple[fmpq_poly, fmpq_poly]


def fraction(node: Node, variable: str) -> tuple[Coefficients, Coefficients] | None:
    """(top, bottom) without a common factor, rational coefficients from the constant up; None where the node is no such fraction.

    Raises:
        ZeroDivisionError: a denominator is zero.
    """
    found = _read(node, variable)
    return None if found is None else (_coefficients(found[0]), _coefficients(found[1]))


def one_fraction(node: Node, variable: str) -> Node | None:
    """The node as one fraction with a factored denominator."""
    found = fraction(node, variable)
    if found is None:
        return None
    top, bottom = found
    content, parts = factors(bottom)
    x = Name(variable)
    front, upper = _whole(tuple(c / content for c in top))
    below = multiply(number(front.denominator), *(power(polynomial(f, x), k) for f, k in parts))
    above = polynomial(tuple(c * front.numerator for c in upper), x) if upper else number(0)
    return above if below == ONE else divide(above, below)


def _whole(values: Coefficients) -> tuple[Fraction, Coefficients]:
    """A number and whole coefficients whose product is the polynomial."""
    bottom = 1
    for c in values:
        bottom *= (c * bottom).denominator
    return Fraction(1, bottom), tuple(c * bottom for c in values)


def _coefficients(poly: fmpq_poly) -> Coefficients:
    return tuple(Fraction(int(c.p), int(c.q)) for c in poly.coeffs())


def _reduced(top: fmpq_poly, bottom: fmpq_poly) -> Pair | None:
    if bottom.degree() < 0:
        raise ZeroDivisionError
    shared = top.gcd(bottom)
    top, bottom = top // shared, bottom // shared
    return (top, bottom) if max(top.degree(), bottom.degree()) <= LARGEST else None


def _read(node: Node, variable: str) -> Pair | None:
    value = rational(node)
    one = fmpq_poly([1])
    if value is not None:
        return fmpq_poly([fmpq(value.numerator, value.denominator)]), one
    match node:
        case Name(name=name):
            return (fmpq_poly([0, 1]), one) if name == variable else None
        case Negative(argument=a):
            inner = _read(a, variable)
            return None if inner is None else (-inner[0], inner[1])
        case Sum(terms=parts) | Product(factors=parts):
            return _folded([_read(p, variable) for p in parts], isinstance(node, Sum))
        case Quotient(top=a, bottom=b):
            above, below = _read(a, variable), _read(b, variable)
            return None if above is None or below is None else _reduced(above[0] * below[1], above[1] * below[0])
        case Power(base=b, exponent=e):
            return _raised(_read(b, variable), rational(e))
    return None


def _folded(parts: list[Pair | None], adding: bool) -> Pair | None:
    total: Pair | None = None
    for part in parts:
        if part is None:
            return None
        if total is None:
            total = part
        else:
            (a, b), (c, d) = total, part
            total = _reduced(a * d + c * b, b * d) if adding else _reduced(a * c, b * d)
            if total is None:
                return None
    return total


def _raised(base: Pair | None, exponent: Fraction | None) -> Pair | None:
    if base is None or exponent is None or exponent.denominator != 1:
        return None
    top, bottom = base if exponent > 0 else base[::-1]
    times = abs(int(exponent))
    if times * max(top.degree(), bottom.degree()) > LARGEST:
        return None
    return _reduced(top**times, bottom**times)
