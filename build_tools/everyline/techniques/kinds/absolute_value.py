"""An absolute value in an integral without limits: its sign in front, and constants chosen so that the answer does not jump."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.expand import multiply_out
from ...algebra.poly import coefficients, linear
from ...algebra.terms import term_of
from ...algebra.tidy import join, tidy
from ...algebra.zeros import zeros_between
from ...notation.build import call, multiply, negate, number, power, substitute, subtract
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Absolute, Infinity, Integral
from ..asking import constant_and_rest
from ..base import Example, Shown, Step, Technique
from ..simple import simple_antiderivative


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    x = question.variable
    term = term_of(rest)
    for base, exponent in term.powers:
        if not isinstance(base, Absolute) or not isinstance(exponent, Fraction) or exponent.denominator != 1 or exponent % 2 == 0:
            continue
        inside = base.argument
        if len(term.powers) == 1 and exponent > 0 and linear(inside, x) is not None:
            continue  # a standard form
        plain = multiply_out(multiply(join(term.without(base)), power(inside, number(exponent))), x)
        found = simple_antiderivative(plain, x)
        zeros = zeros_between(inside, x, negate(Infinity()), Infinity())
        if found is None or zeros is None or len(zeros) > 1 or (isinstance(rest, Absolute) and coefficients(inside, x) is None):
            continue
        if exponent > 0 and zeros:
            found = tidy(subtract(found, substitute(found, {x: zeros[0]})))
        sign = call("sgn", inside)
        shown = Shown("equal", base, multiply(sign, inside))
        reason = say("The bars change the sign where {inside} does: integrate without them, zero at that place, and put the sign in front.",
                     inside=inside)  # fmt: skip
        value = tidy(multiply(constant, sign, found))
        yield Step("absolute-value", value, reason, detail=(shown, Shown("equal", Integral(plain, x), found)))


TECHNIQUE = Technique(
    id="absolute-value",
    title="Absolute value by sign",
    cost=2.5,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int x|x - 2| \, dx"),
        Example(r"\int \frac{1}{|x|} \, dx"),
        Example(r"\int |2x - 6| \, dx", applies=False),
        Example(r"\int |\sin x| \, dx", applies=False),
    ),
    after=("table",),
    explains="|g| is g times its sign, and the sign is constant between the zeros of g.",
)
