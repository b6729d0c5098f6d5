"""Our tree as a SymPy expression and back. SymPy is imported only when one of these is called."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from importlib import import_module
from typing import Any

from ..notation.build import PI, E, add, call, multiply, number, power
from ..notation.question import Given
from ..notation.tree import (
    Absolute,
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

#: Our names of functions and SymPy's.
_THEIRS: Mapping[str, str] = {
    "arcsin": "asin", "arccos": "acos", "arctan": "atan", "arcsec": "asec", "arccsc": "acsc", "arccot": "acot", "arsinh": "asinh",
    "arcosh": "acosh", "artanh": "atanh", "arsech": "asech", "arcsch": "acsch", "arcoth": "acoth", "ln": "log", "sgn": "sign",
}  # fmt: skip
_OURS: Mapping[str, str] = {theirs: ours for ours, theirs in _THEIRS.items()}


def to_sympy(node: Node, given: Given | None = None) -> Any:
    """The SymPy expression; every name is real, and positive or whole where that is given.

    Raises:
        ValueError: the node is not an expression (an equation, an open integral).
    """
    sympy: Any = import_module("sympy")
    assumed = _assumed(given or Given())

    def convert(part: Node) -> Any:
        match part:
            case Number(value=v):
                return sympy.Rational(v.numerator, v.denominator)
            case Constant(name=name):
                return sympy.pi if name == "pi" else sympy.E
            case Infinity():
                return sympy.oo
            case Name(name=name):
                return sympy.Symbol(name, real=True, **assumed.get(name, {}))
            case Negative(argument=a):
                return -convert(a)
            case Sum(terms=ts):
                return sympy.Add(*(convert(t) for t in ts))
            case Product(factors=fs):
                return sympy.Mul(*(convert(f) for f in fs))
            case Quotient(top=a, bottom=b):
                return convert(a) / convert(b)
            case Power(base=a, exponent=e):
                return convert(a) ** convert(e)
            case Root(radicand=a, index=n):
                return sympy.real_root(convert(a), n) if n % 2 else sympy.root(convert(a), n)
            case Absolute(argument=a):
                return sympy.Abs(convert(a))
            case Call(function=f, argument=a):
                return getattr(sympy, _THEIRS.get(f, f))(convert(a))
            case Logarithm(base=b, argument=a):
                return sympy.log(convert(a)) / sympy.log(convert(b))
        raise ValueError(f"{type(part).__name__} is not an expression")

    return convert(node)


def _assumed(given: Given) -> dict[str, dict[str, bool]]:
    """What SymPy is told of each letter besides that it is real."""
    told: dict[str, dict[str, bool]] = {p.name: {"integer": True} if p.integer else {} for p in given.parameters}
    for condition in given.conditions:
        if isinstance(condition.left, Name) and condition.relation == ">" and condition.right == number(0):
            told.setdefault(condition.left.name, {})["positive"] = True
    return told


def from_sympy(expression: Any) -> Node:
    """The tree of a SymPy expression, in the order in which SymPy keeps it.

    Raises:
        ValueError: something that our tree does not have.
    """
    sympy: Any = import_module("sympy")
    if expression.is_Rational:
        return number(Fraction(int(expression.p), int(expression.q)))
    if expression is sympy.pi:
        return PI
    if expression is sympy.E:
        return E
    if expression is sympy.oo:
        return Infinity()
    if expression is -sympy.oo:
        return Negative(Infinity())
    if expression.is_Symbol:
        return Name(expression.name)
    parts = [from_sympy(a) for a in expression.args]
    if expression.is_Add:
        return add(*parts)
    if expression.is_Mul:
        return multiply(*parts)
    if expression.is_Pow:
        return power(parts[0], parts[1])
    name = type(expression).__name__
    if name == "Abs":
        return Absolute(parts[0])
    if name == "exp":
        return power(E, parts[0])
    ours = _OURS.get(name, name)
    if len(parts) == 1 and ours in _CALLS:
        return call(ours, parts[0])
    raise ValueError(f"{name} has no place in the tree")


_CALLS = frozenset({"sin", "cos", "tan", "sec", "csc", "cot", "sinh", "cosh", "tanh", "sech", "csch", "coth", *_THEIRS})
