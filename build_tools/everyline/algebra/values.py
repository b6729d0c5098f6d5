"""Exact values that a student knows by heart: sines of the common angles and their inverses, logarithms of 1 and e.

Angles are in radians; the table is the usual one for multiples of π/6 and π/4 (common practice, no source).
"""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import E, divide, multiply, negate, number, rational
from ..notation.tree import Constant, Negative, Node, Power, Product, Quotient, Root


def _surd(p: int, n: int, q: int) -> Node:
    return divide(multiply(number(p), Root(number(n))), number(q))


def _sine(turn: Fraction) -> Node | None:
    """sin(turn·π)."""
    turn %= 2
    if turn >= 1:
        value = _sine(turn - 1)
        return None if value is None else negate(value)
    if turn > Fraction(1, 2):
        turn = 1 - turn
    return {
        Fraction(0): number(0), Fraction(1, 6): number(Fraction(1, 2)), Fraction(1, 4): _surd(1, 2, 2),
        Fraction(1, 3): _surd(1, 3, 2), Fraction(1, 2): number(1),
    }.get(turn)  # fmt: skip


def turns(argument: Node) -> Fraction | None:
    """q where the argument is written as q·π."""
    match argument:
        case Constant(name="pi"):
            return Fraction(1)
        case Product(factors=(first, Constant(name="pi"))):
            return rational(first)
        case Quotient(top=top, bottom=bottom):
            a, b = turns(top), rational(bottom)
            return None if a is None or not b else a / b
        case Negative(argument=inner):
            value = turns(inner)
            return None if value is None else -value
    return Fraction(0) if rational(argument) == 0 else None


def special(function: str, argument: Node) -> Node | None:
    """The exact value of a function at a number, where it is one of the well-known ones."""
    turn = turns(argument)
    if turn is not None:
        value = _trigonometric(function, turn)
        if value is not None:
            return value
    plain = rational(argument)
    if plain is not None:
        known = _at_rational(function, plain)
        if known is not None:
            return known
    return _inverse(function, argument)


def _trigonometric(function: str, turn: Fraction) -> Node | None:
    from .tidy import tidy

    sine, cosine = _sine(turn), _sine(turn + Fraction(1, 2))
    if sine is None or cosine is None:
        return None
    zero = number(0)
    top, bottom = {
        "sin": (sine, number(1)), "cos": (cosine, number(1)), "tan": (sine, cosine), "cot": (cosine, sine),
        "sec": (number(1), cosine), "csc": (number(1), sine),
    }.get(function, (zero, zero))  # fmt: skip
    return None if bottom == zero else tidy(divide(top, bottom))


def _at_rational(function: str, value: Fraction) -> Node | None:
    if value == 0 and function in ("sinh", "tanh", "arsinh", "artanh", "arctan", "arcsin"):
        return number(0)
    if value == 0 and function in ("cosh", "sech", "exp"):
        return number(1)
    if value == 1 and function in ("ln", "arcosh"):
        return number(0)
    if function == "sgn" and value:
        return number(1 if value > 0 else -1)
    if function == "ln" and value > 0 and value.numerator == 1 and value != 1:
        return negate(_call_ln(number(value.denominator)))
    return None


def _call_ln(argument: Node) -> Node:
    from ..notation.tree import Call

    return Call("ln", argument)


def _inverse(function: str, argument: Node) -> Node | None:
    if function == "ln":
        if argument == E:
            return number(1)
        if isinstance(argument, Power) and argument.base == E:
            return argument.exponent
        if isinstance(argument, Root):
            return divide(_ln(argument.radicand), number(argument.index))
        return None
    pi = Constant("pi")
    if isinstance(argument, Negative):
        inner = _inverse(function, argument.argument)
        if inner is None:
            return None
        return negate(inner) if function in ("arcsin", "arctan") else _minus(pi, inner) if function in ("arccos", "arcsec") else None
    for d, k in ((6, 1), (4, 1), (3, 1), (2, 1), (1, 0)):
        turn = Fraction(k, d)
        plain = {"arcsin": "sin", "arctan": "tan", "arccos": "cos", "arcsec": "sec"}.get(function)
        if plain is None:
            return None
        candidates = (turn, Fraction(1, 2) - turn) if plain in ("cos", "sec") else (turn,)
        for candidate in candidates:
            if _trigonometric(plain, candidate) == argument and 0 <= candidate < 1:
                from .tidy import tidy

                return tidy(multiply(number(candidate), pi))
    return None


def _ln(node: Node) -> Node:
    from .tidy import tidy

    return tidy(_call_ln(node))


def _minus(pi: Node, inner: Node) -> Node:
    from ..notation.build import subtract
    from .tidy import tidy

    return tidy(subtract(pi, inner))
