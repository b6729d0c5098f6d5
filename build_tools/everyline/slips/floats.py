"""A plain floating-point reading of a tree: quick, never trusted, used only to see that two formulas are *not* the same."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from fractions import Fraction

from ..notation.build import rational
from ..notation.tree import (
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

_INVERSE: dict[str, Callable[[float], float]] = {
    "sec": lambda x: 1 / math.cos(x),
    "csc": lambda x: 1 / math.sin(x),
    "cot": lambda x: 1 / math.tan(x),
    "sech": lambda x: 1 / math.cosh(x),
    "csch": lambda x: 1 / math.sinh(x),
    "coth": lambda x: 1 / math.tanh(x),
    "arcsec": lambda x: math.acos(1 / x),
    "arccsc": lambda x: math.asin(1 / x),
    "arccot": lambda x: math.pi / 2 - math.atan(x),
    "arsech": lambda x: math.acosh(1 / x),
    "arcsch": lambda x: math.asinh(1 / x),
    "arcoth": lambda x: math.atanh(1 / x),
    "sgn": lambda x: math.copysign(1.0, x),
}
_DIRECT: dict[str, Callable[[float], float]] = {
    "sin": math.sin, "cos": math.cos, "tan": math.tan, "arcsin": math.asin, "arccos": math.acos, "arctan": math.atan,
    "sinh": math.sinh, "cosh": math.cosh, "tanh": math.tanh, "arsinh": math.asinh, "arcosh": math.acosh, "artanh": math.atanh,
    "exp": math.exp, "ln": math.log,
}  # fmt: skip
_CALLS = {**_DIRECT, **_INVERSE}


def at(node: Node, values: Mapping[str, float]) -> float | None:
    """The value of `node` with its names at `values`; None where it is undefined, too large or not a number at all."""
    try:
        found = _value(node, values)
    except (ValueError, ArithmeticError, KeyError, TypeError, LookupError):
        return None
    return found if math.isfinite(found) else None


def _value(node: Node, values: Mapping[str, float]) -> float:
    match node:
        case Number(value=value):
            return float(value)
        case Constant(name=name):
            return math.pi if name == "pi" else math.e
        case Name(name=name):
            return values[name]
        case ArbitraryConstant():
            return 0.25
        case Negative(argument=inner):
            return -_value(inner, values)
        case Sum(terms=terms):
            return math.fsum(_value(term, values) for term in terms)
        case Product(factors=factors):
            return math.prod(_value(factor, values) for factor in factors)
        case Quotient(top=top, bottom=bottom):
            return _value(top, values) / _value(bottom, values)
        case Power(base=base, exponent=exponent):
            return _power(_value(base, values), rational(exponent), _value(exponent, values))
        case Root(radicand=radicand, index=index):
            return _power(_value(radicand, values), Fraction(1, index), 1 / index)
        case Absolute(argument=inner):
            return abs(_value(inner, values))
        case Call(function=function, argument=inner):
            return _CALLS[function](_value(inner, values))
        case Logarithm(base=base, argument=inner):
            return math.log(_value(inner, values)) / math.log(_value(base, values))
        case Infinity():
            return math.inf
    raise LookupError(type(node).__name__)


def _power(base: float, exact: Fraction | None, exponent: float) -> float:
    if base < 0 and exact is not None and exact.denominator % 2:
        size = math.pow(-base, exponent)
        return -size if exact.numerator % 2 else size
    if base < 0:
        raise ValueError("an even root of a negative number")
    return math.pow(base, exponent)
