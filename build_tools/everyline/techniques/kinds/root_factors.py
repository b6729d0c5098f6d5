"""A denominator of degree four without odd powers that factors only with roots in the coefficients."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.poly import coefficients, factors
from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import ONE, ZERO, add, divide, multiply, number, power, root, subtract
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Name, Node
from ..asking import constant_and_rest, integral
from ..base import Example, Shown, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    x = question.variable
    term = term_of(rest)
    below = [b for b, e in term.powers if e == -1]
    if len(below) != 1 or any(isinstance(e, Fraction) and e < 0 and b != below[0] for b, e in term.powers):
        return
    (base,) = below
    quartic = coefficients(base, x)
    top = coefficients(tidy(multiply(rest, base)), x)
    if quartic is None or top is None or len(quartic) != 5 or quartic[1] or quartic[3] or len(top) > 4 or len(factors(quartic)[1]) != 1:
        return
    q, p, a = quartic[0] / quartic[4], quartic[2] / quartic[4], quartic[4]
    odd, even = (_at(top, 1), _at(top, 3)), (_at(top, 0), _at(top, 2))
    pair = _two_squares(p, q, even, Name(x)) if p * p > 4 * q else _two_quadratics(p, q, even, Name(x))
    if pair is None:
        return
    factored, parts = pair
    odds = ZERO if not any(odd) else divide(add(multiply(number(odd[1]), power(Name(x), 3)), multiply(number(odd[0]), Name(x))), base)
    new = tidy(add(tidy(odds), *(tidy(multiply(number(1 / a), part)) for part in parts)))
    shown = Shown("equal", base, tidy(multiply(number(a), factored)) if a != 1 else factored)
    reason = say("The denominator factors with roots in the coefficients: split into fractions.")
    yield Step("root-factors", integral(new, x, constant if constant != ONE else None), reason, detail=(shown,))


def _at(values: tuple[Fraction, ...], k: int) -> Fraction:
    return values[k] if k < len(values) else Fraction(0)


def _two_squares(p: Fraction, q: Fraction, even: tuple[Fraction, Fraction], x: Node) -> tuple[Node, tuple[Node, ...]]:
    """x⁴ + px² + q = (x² - r)(x² - s) and the two fractions of bx² + d over it."""
    half, gap = number(-p / 2), root(number(p * p / 4 - q))
    r, s = tidy(add(half, gap)), tidy(subtract(half, gap))
    d, b = number(even[0]), number(even[1])
    apart = tidy(subtract(r, s))
    first, second = subtract(power(x, 2), r), subtract(power(x, 2), s)
    above = [tidy(divide(add(multiply(b, z), d), apart)) for z in (r, s)]
    first, second = tidy(first), tidy(second)
    return multiply(first, second), (tidy(divide(above[0], first)), tidy(divide(multiply(number(-1), above[1]), second)))


def _two_quadratics(p: Fraction, q: Fraction, even: tuple[Fraction, Fraction], x: Node) -> tuple[Node, tuple[Node, ...]] | None:
    """x⁴ + px² + q = (x² + mx + k)(x² - mx + k) with k = √q, m = √(2k - p), and the two fractions of bx² + d over it."""
    k = tidy(root(number(q)))
    m = tidy(root(subtract(multiply(number(2), k), number(p))))
    d, b = number(even[0]), number(even[1])
    flat = tidy(divide(d, multiply(number(2), k)))
    slope = tidy(divide(subtract(multiply(number(2), flat), b), multiply(number(2), m)))
    middle = tidy(multiply(m, x))
    first = tidy(add(power(x, 2), middle, k))
    second = tidy(add(subtract(power(x, 2), middle), k))
    up, down = tidy(add(multiply(slope, x), flat)), tidy(subtract(flat, multiply(slope, x)))
    return multiply(first, second), (tidy(divide(up, first)), tidy(divide(down, second)))


TECHNIQUE = Technique(
    id="root-factors",
    title="Factors with roots in the coefficients",
    cost=6.5,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{x^4 + 1} \, dx"),
        Example(r"\int \frac{x^2}{x^4 + 4x^2 + 1} \, dx"),
        Example(r"\int \frac{1}{x^4 + 3x^2 - 1} \, dx"),
        Example(r"\int \frac{1}{x^4 + 5x^2 + 4} \, dx", applies=False),
        Example(r"\int \frac{1}{x^4 + x + 1} \, dx", applies=False),
    ),
    after=("partial-fractions",),
    explains="x⁴ + px² + q is always a product of two quadratics; their coefficients may be roots.",
)
