"""A conjugate factor: 1/(1 ± sin), 1/(1 ± cos), and what cancels against them.

Sources: NIST DLMF 4.21 (trigonometric) and 4.35 (hyperbolic). Each rewriting is checked by the kernel before it is used.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..algebra.expand import multiply_out
from ..algebra.terms import Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ONE, TWO, add, call, divide, multiply, negate, number, power, rational, replace, root, subtract, walk
from ..notation.message import sentence
from ..notation.tree import Call, Equation, Node, Sum
from .rewriting import Rewriting, halved
from .waves import whole


def conjugates(rest: Node, variable: str) -> Iterator[Rewriting]:
    """1/(1 ± sin), 1/(1 ± cos): the conjugate factor; cos²/(1 - sin) cancels."""
    term = term_of(rest)
    for base, exponent in term.powers:
        if not isinstance(base, Sum) or len(base.terms) != 2 or not isinstance(exponent, Fraction):
            continue
        if exponent == -1:
            yield from _cleared(term.without(base), base)
        constants = [t for t in base.terms if rational(t) is not None]
        if len(constants) != 1:
            continue
        wave_term = term_of(next(t for t in base.terms if rational(t) is None))
        c = rational(constants[0])
        if c is None or len(wave_term.powers) != 1 or abs(wave_term.coefficient) != abs(c):
            continue
        wave, e = wave_term.powers[0]
        if not isinstance(wave, Call) or e != 1 or wave.function not in ("sin", "cos", "sec"):
            continue
        yield from _conjugate(term.without(base), c, wave_term.coefficient, wave, exponent, variable)


def _cleared(left: Term, base: Sum) -> Iterator[Rewriting]:
    """1/(1 + tan x) as cos x/(cos x + sin x)."""
    for tangent, over, sine, cosine, text in (
        ("tan", "sec", "sin", "cos", sentence("Multiply above and below by the cosine.")),
        ("cot", "csc", "cos", "sin", sentence("Multiply above and below by the sine.")),
    ):
        angles = {p.argument for p in walk(base) if isinstance(p, Call) and p.function == tangent}
        if len(angles) != 1:
            continue
        (a,) = angles
        below = call(cosine, a)
        swaps = {tangent: divide(call(sine, a), below), over: divide(ONE, below)}

        def cleared(part: Node, swaps: dict[str, Node] = swaps, below: Node = below, a: Node = a) -> Node:
            for function, quotient in swaps.items():
                part = replace(part, call(function, a), quotient)
            return tidy(multiply(part, below))

        new = add(*(cleared(t) for t in base.terms))
        yield Rewriting(multiply(cleared(join(left)), divide(ONE, new)), None, text)


def _conjugate(left: Term, c: Fraction, k: Fraction, wave: Call, exponent: Fraction, variable: str) -> Iterator[Rewriting]:
    angle, other = wave.argument, {"sin": "cos", "cos": "sin", "sec": "tan"}[wave.function]
    conjugate = add(number(c), multiply(number(-k), wave))
    if wave.function == "sec":
        if exponent == -1:
            sign = k / c
            inner = add(ONE, multiply(number(sign), call("cos", angle)))
            inner = add(call("cos", angle), number(sign))
            yield Rewriting(
                multiply(join(left), divide(call("cos", angle), multiply(number(c), inner))),
                None,
                sentence("Multiply above and below by the cosine."),
            )
        return
    if exponent == -1:
        square = power(call(other, angle), 2)
        co = left.exponent(call(other, angle))
        rule = Equation(subtract(ONE, power(wave, 2)), square)
        new = multiply(join(left), conjugate, divide(ONE, multiply(number(c * c), square)))
        if isinstance(co, Fraction) and co >= 2:
            yield Rewriting(tidy(new), rule)
        else:
            yield Rewriting(
                multiply_out(_single(tidy(multiply_out(new)))), None, sentence("Multiply above and below by the conjugate."), 0.3
            )
    if exponent == Fraction(1, 2) and k < 0 < c and wave.function == "cos":
        half = call("sin", halved(angle))
        rule = Equation(add(ONE, negate(wave)), multiply(TWO, power(half, 2)))
        yield Rewriting(tidy(multiply(join(left), root(number(2 * c)), half)), rule, extra=0.5)


def _single(node: Node) -> Node:
    """Quotients of sine and cosine in each term as single functions."""
    if not isinstance(node, Sum):
        return node
    return tidy(add(*(_one(t) for t in node.terms)))


def _one(node: Node) -> Node:
    term = term_of(node)
    for f, g, t, s in (("sin", "cos", "tan", "sec"), ("cos", "sin", "cot", "csc")):
        for base, exponent in term.powers:
            if isinstance(base, Call) and base.function == g and isinstance(exponent, Fraction) and exponent < 0 and whole(exponent):
                a = base.argument
                m = term.exponent(call(f, a))
                if isinstance(m, Fraction) and whole(m) and 0 <= m <= -exponent:
                    rest = term.without(base, call(f, a))
                    return tidy(multiply(join(rest), power(call(t, a), int(m)), power(call(s, a), int(-exponent - m))))
    return node
