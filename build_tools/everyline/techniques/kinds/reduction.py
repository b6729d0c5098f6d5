"""Reduction: a power of a square plus a constant in the denominator becomes a lower one, by parts."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import ONE, ZERO, add, divide, multiply, number, power
from ...notation.message import say
from ...notation.question import Question
from ..asking import constant_and_rest, integral
from ..base import Example, Step, Technique
from ..quadratics import centred


def propose(question: Question) -> Iterable[Step]:
    """With q = Aℓ² + B and ℓ' = s: d(ℓ/q^(n-1)) = s·((3 - 2n)/q^(n-1) + (2n - 2)B/q^n) dx, solved for ∫ 1/q^n."""
    constant, rest = constant_and_rest(question)
    powers = term_of(rest).powers
    if len(powers) != 1:
        return
    base, exponent = powers[0]
    form = centred(base, question.variable)
    if form is None or form.constant == ZERO or not isinstance(exponent, Fraction) or exponent.denominator != 1 or exponent > -2:
        return
    n = int(-exponent)
    front = tidy(divide(ONE, multiply(number(2 * n - 2), form.constant)))
    boundary = tidy(multiply(constant, front, divide(form.line, multiply(form.slope, power(base, n - 1)))))
    lower = integral(divide(ONE, power(base, n - 1)), question.variable, tidy(multiply(constant, number(2 * n - 3), front)))
    reason = say("Differentiate {F} to see it: the power in the denominator goes down by one.", F=divide(form.line, power(base, n - 1)))
    yield Step("reduction", add(boundary, tidy(lower)), reason)


TECHNIQUE = Technique(
    id="reduction",
    title="Reduction of the power",
    cost=4.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{(x^2 + 4)^2} \, dx"),
        Example(r"\int \frac{5}{((x - 1)^2 + 3)^3} \, dx"),
        Example(r"\int \frac{1}{(x^2 - 2)^2} \, dx"),
        Example(r"\int \frac{1}{x^2 + 4} \, dx", applies=False),
        Example(r"\int \frac{x}{(x^2 + 4)^2} \, dx", applies=False),
    ),
    after=("parts",),
    explains="By parts, the integral of 1/(x² + c)ⁿ is a fraction plus a multiple of the integral with n - 1.",
)
