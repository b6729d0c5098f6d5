"""Exact values that a student knows by heart: sines of the common angles and their inverses, logarithms of 1 and e.

Angles are in radians; the table is the usual one for multiples of π/6 and π/4 (common practice, no source).
"""

from __future__ import annotations

from fractions import Fraction
from math import pi

from ..notation.build import PI, E, add, contains, divide, multiply, negate, number, rational, subtract
from ..notation.tree import Call, Constant, Negative, Node, Power, Product, Quotient, Root, Sum


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
    return Call("ln", argument)


def _inverse(function: str, argument: Node) -> Node | None:
    if function == "ln":
        if argument == E:
            return number(1)
        if isinstance(argument, Power) and argument.base == E:
            return argument.exponent
        if isinstance(argument, Root):
            return divide(_ln(argument.radicand), number(argument.index))
        return _of_power(argument)
    if function in ("sinh", "cosh", "tanh") and isinstance(argument, Call) and argument.function == "ln":
        return _hyperbolic(function, rational(argument.argument))
    if isinstance(argument, Negative):
        inner = _inverse(function, argument.argument)
        if inner is None:
            return None
        return negate(inner) if function in ("arcsin", "arctan") else _minus(PI, inner) if function in ("arccos", "arcsec") else None
    for d, k in ((6, 1), (4, 1), (3, 1), (2, 1), (1, 0)):
        turn = Fraction(k, d)
        plain = {"arcsin": "sin", "arctan": "tan", "arccos": "cos", "arcsec": "sec"}.get(function)
        if plain is None:
            return None
        candidates = (turn, Fraction(1, 2) - turn) if plain in ("cos", "sec") else (turn,)
        for candidate in candidates:
            if _trigonometric(plain, candidate) == argument and 0 <= candidate < 1:
                from .tidy import tidy

                return tidy(multiply(number(candidate), PI))
    return _part_of_pi(function, argument)


def _of_power(argument: Node) -> Node | None:
    """ln(q e^k) as ln q + k."""
    from .terms import Term, term_of
    from .tidy import join, tidy

    term = term_of(argument) if isinstance(argument, Product | Quotient) else Term(Fraction(1))
    exponent, share = term.exponent(E), Term(term.coefficient)
    if not exponent or term.without(E).powers or share.coefficient <= 0:
        return None
    plain = number(exponent) if isinstance(exponent, Fraction) else exponent
    return tidy(add(_call_ln(join(share)), plain))


def _hyperbolic(function: str, inside: Fraction | None) -> Node | None:
    """sinh(ln q) and its like: half of q less or plus 1/q."""
    if inside is None or inside <= 0:
        return None
    sine, cosine = (inside - 1 / inside) / 2, (inside + 1 / inside) / 2
    return number({"sinh": sine, "cosh": cosine, "tanh": sine / cosine}[function])


def _part_of_pi(function: str, argument: Node) -> Node | None:
    """A twelfth of π or several, where a root in the argument hides that: proposed by size, and proved where it is used."""
    from .numbers import number_of
    from .tidy import tidy

    if not contains(argument, Root) or not isinstance(argument, Sum | Quotient | Product):
        return None
    size = number_of(Call(function, argument))
    share = None if size is None or not size.is_finite() else float(size) / pi * 12
    if share is None or abs(share - round(share)) > 1e-13:
        return None
    return tidy(multiply(number(Fraction(round(share), 12)), PI))


def _ln(node: Node) -> Node:
    from .tidy import tidy

    return tidy(_call_ln(node))


def _minus(whole: Node, inner: Node) -> Node:
    from .tidy import tidy

    return tidy(subtract(whole, inner))
