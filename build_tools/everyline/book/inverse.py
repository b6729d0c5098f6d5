"""Turning x = g(t) round into t = …, for the substitutions that a teacher writes the other way about."""

from __future__ import annotations

from ..notation.build import E, add, call, divide, names, negate, power, rational, root, subtract
from ..notation.tree import Call, Name, Negative, Node, Number, Power, Product, Quotient, Root, Sum

#: On the branch that textbooks use: the principal one of each inverse function.
_INVERSES = {
    "sin": "arcsin", "cos": "arccos", "tan": "arctan", "sec": "arcsec", "csc": "arccsc", "cot": "arccot",
    "sinh": "arsinh", "cosh": "arcosh", "tanh": "artanh", "sech": "arsech", "csch": "arcsch", "coth": "arcoth",
    "exp": "ln", "ln": "exp",
    "arcsin": "sin", "arctan": "tan", "arccos": "cos", "arsinh": "sinh", "artanh": "tanh",
}  # fmt: skip


def invert(formula: Node, name: str, value: Node) -> Node | None:
    """The tree for `name` if `formula` = `value`, where `name` stands in the formula once; None where that is not known."""
    match formula:
        case Name(name=found) if found == name:
            return value
        case Negative(argument=inner):
            return invert(inner, name, negate(value))
        case Sum(terms=terms):
            holder, others = _split(terms, name)
            return None if holder is None else invert(holder, name, subtract(value, add(*others)))
        case Product(factors=factors):
            holder, others = _split(factors, name)
            for other in others:
                value = divide(value, other)
            return None if holder is None else invert(holder, name, value)
        case Quotient(top=top, bottom=bottom):
            if name in names(top) and name not in names(bottom):
                return invert(top, name, Product((bottom, value)))
            return invert(bottom, name, divide(top, value)) if name not in names(top) else None
        case Call(function=function, argument=inner) if function in _INVERSES:
            return invert(inner, name, call(_INVERSES[function], value))
    return _invert_power(formula, name, value)


def _invert_power(formula: Node, name: str, value: Node) -> Node | None:
    match formula:
        case Root(radicand=inner, index=index):
            return invert(inner, name, power(value, index))
        case Power(base=base, exponent=exponent) if name not in names(exponent):
            whole = rational(exponent)
            if whole is not None and whole.denominator == 1 and whole > 1:
                return invert(base, name, root(value, int(whole)))
            return invert(base, name, Power(value, divide(Number(whole.__class__(1)), exponent))) if whole else None
        case Power(base=base, exponent=exponent) if name not in names(base):
            logarithm = call("ln", value)
            return invert(exponent, name, logarithm if base == E else divide(logarithm, call("ln", base)))
    return None


def _split(parts: tuple[Node, ...], name: str) -> tuple[Node | None, tuple[Node, ...]]:
    holders = [part for part in parts if name in names(part)]
    return (holders[0] if len(holders) == 1 else None), tuple(part for part in parts if name not in names(part))
