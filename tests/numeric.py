"""Trees as numbers, by mpmath alone: the measure by which no answer of the deriver and no key of a family may be wrong."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import mpmath

from everyline.notation.build import rational
from everyline.notation.tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Infinity,
    Logarithm,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)  # fmt: skip

_NAMES = {
    "ln": "log", "arcsin": "asin", "arccos": "acos", "arctan": "atan", "arcsec": "asec", "arccsc": "acsc", "arccot": "acot",
    "arsinh": "asinh", "arcosh": "acosh", "artanh": "atanh", "arsech": "asech", "arcsch": "acsch", "arcoth": "acoth", "sgn": "sign",
}  # fmt: skip


def value(node: Node, at: Mapping[str, mpmath.mpf]) -> mpmath.mpf:
    """The real value of a tree; odd roots of negative numbers are negative. A constant of integration is zero.

    Raises:
        ValueError: not a real number there.
    """
    found = mpmath.mpmathify(_value(node, at))
    if isinstance(found, mpmath.mpc):
        if abs(found.imag) > mpmath.mpf(10) ** -25:
            raise ValueError("not real")
        return found.real
    return found


def function(node: Node, variable: str = "x") -> Callable[[mpmath.mpf], mpmath.mpf]:
    """A tree as a function of a variable; it raises ValueError where it is not real."""
    return lambda x: value(node, {variable: x})


def _value(node: Node, at: Mapping[str, mpmath.mpf]) -> mpmath.mpf:
    match node:
        case Number(value=v):
            return mpmath.mpf(v.numerator) / v.denominator
        case Constant(name=name):
            return +mpmath.pi if name == "pi" else +mpmath.e
        case ArbitraryConstant():
            return mpmath.mpf(0)
        case Infinity():
            return mpmath.inf
        case Name(name=name):
            return at[name]
        case Negative(argument=a):
            return -value(a, at)
        case Sum(terms=ts):
            return mpmath.fsum(value(t, at) for t in ts)
        case Product(factors=fs):
            return mpmath.fprod(value(f, at) for f in fs)
        case Quotient(top=a, bottom=b):
            return value(a, at) / value(b, at)
        case Root(radicand=a, index=n):
            return _power(value(a, at), 1, n)
        case Power(base=b, exponent=e):
            exact = rational(e)
            base = value(b, at)
            return base ** value(e, at) if exact is None else _power(base, exact.numerator, exact.denominator)
        case Absolute(argument=a):
            return abs(value(a, at))
        case Logarithm(base=b, argument=a):
            return mpmath.log(value(a, at)) / mpmath.log(value(b, at))
        case Call(function=f, argument=a):
            return getattr(mpmath, _NAMES.get(f, f))(value(a, at))
    raise ValueError(type(node).__name__)


def _power(base: mpmath.mpf, p: int, q: int) -> mpmath.mpf:
    if base < 0 and q % 2:
        return (-1) ** p * (-base) ** (mpmath.mpf(p) / q)
    return base ** (mpmath.mpf(p) / q)
