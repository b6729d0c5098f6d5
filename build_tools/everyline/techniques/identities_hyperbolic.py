"""Identities of the hyperbolic functions, and the exponentials that they stand for.

Sources: NIST DLMF 4.21 (trigonometric) and 4.35 (hyperbolic). Each rewriting is checked by the kernel before it is used.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..algebra.expand import multiply_out
from ..algebra.terms import Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ONE, TWO, E, add, call, divide, multiply, negate, number, power, subtract
from ..notation.tree import Call, Equation, Node
from .rewriting import Rewriting, doubled
from .waves import whole


def hyperbolic(rest: Node, variable: str) -> Iterator[Rewriting]:
    term = term_of(rest)
    for base, exponent in term.powers:
        if not isinstance(base, Call) or not isinstance(exponent, Fraction) or not whole(exponent):
            continue
        a, left = base.argument, join(term.without(base))
        half = tidy(divide(a, TWO))
        if base.function == "sinh" and exponent == 1 and any(isinstance(b, Call) and b.argument == half for b, _ in term.powers):
            pair = multiply(TWO, call("sinh", half), call("cosh", half))
            yield Rewriting(multiply(left, pair), Equation(base, pair))
        if base.function in ("sinh", "cosh") and exponent == 2:
            sign = ONE if base.function == "cosh" else negate(ONE)
            mean = divide(add(call("cosh", doubled(a)), sign), TWO)
            yield Rewriting(multiply_out(multiply(left, mean)), Equation(power(base, 2), mean))
        if base.function in ("sinh", "cosh") and exponent % 2 == 1 and exponent >= 3:
            other = call("cosh" if base.function == "sinh" else "sinh", a)
            square = subtract(power(other, 2), ONE) if base.function == "sinh" else add(power(other, 2), ONE)
            yield Rewriting(multiply(left, power(square, int(exponent - 1) // 2), base), Equation(power(base, 2), square))
        below = term.exponent(call("cosh" if base.function == "sinh" else "sinh", a))
        if base.function in ("sinh", "cosh") and exponent % 2 == 0 and exponent > 0 and isinstance(below, Fraction) and below < 0:
            other = call("cosh" if base.function == "sinh" else "sinh", a)
            square = subtract(power(other, 2), ONE) if base.function == "sinh" else add(power(other, 2), ONE)
            yield Rewriting(multiply_out(multiply(left, power(square, int(exponent) // 2))), Equation(power(base, 2), square))
        if base.function in ("tanh", "coth") and exponent >= 2:
            other = call("sech" if base.function == "tanh" else "csch", a)
            square = subtract(ONE, power(other, 2)) if base.function == "tanh" else add(ONE, power(other, 2))
            yield Rewriting(multiply_out(multiply(left, power(base, int(exponent) - 2), square)), Equation(power(base, 2), square))
        if base.function in ("tanh", "coth") and exponent == 1:
            f, g = ("sinh", "cosh") if base.function == "tanh" else ("cosh", "sinh")
            yield Rewriting(multiply(left, divide(call(f, a), call(g, a))), Equation(base, divide(call(f, a), call(g, a))))
        if (
            base.function in ("sech", "csch")
            or (base.function in ("cosh", "sinh") and exponent < 0)
            or (base.function in ("sinh", "cosh") and len(term.powers) > 1)
        ):
            yield from _exponentials(term, base, exponent)
        if base.function in ("cosh", "sinh") and exponent < 0:
            single = call({"cosh": "sech", "sinh": "csch"}[base.function], a)
            yield Rewriting(multiply(left, power(single, int(-exponent))), Equation(single, divide(ONE, base)))


def _exponentials(term: Term, base: Call, exponent: Fraction) -> Iterator[Rewriting]:
    a = base.argument
    grow, fall = power(E, a), tidy(power(E, negate(a)))
    pair = add(grow, fall) if base.function in ("cosh", "sech") else subtract(grow, fall)
    value = divide(pair, TWO) if base.function in ("cosh", "sinh") else divide(TWO, pair)
    left = join(term.without(base))
    extra = 1.5 + 0.5 * max(0.0, abs(float(exponent)) - 2)  # a high power of a sum of exponentials is long
    yield Rewriting(multiply_out(multiply(left, power(value, number(exponent)))), Equation(base, value), extra=extra)
