"""Polynomial division: a fraction that is top-heavy, or that cancels."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.poly import polynomial, product, quotient_remainder, rational_function
from ...algebra.tidy import tidy
from ...notation.build import ONE, add, divide, multiply, summands
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Equation, Name, Quotient, Sum
from ..asking import constant_and_rest, integral
from ..base import Example, Shown, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    found = rational_function(rest, question.variable)
    if found is None or not found[1]:
        return
    top, factors = found
    below: tuple[Fraction, ...] = (Fraction(1),)
    for factor, times in factors:
        for _ in range(times):
            below = product(below, factor)
    if len(top) < len(below) or len(below) < 2 or not any(below[:-1]):
        return
    quotient, remainder = quotient_remainder(top, below)
    x = Name(question.variable)
    bottom = tidy(rest.bottom) if isinstance(rest, Quotient) else polynomial(below, x)
    upper, over = polynomial(quotient, x), polynomial(remainder, x)
    whole = tidy(add(upper, tidy(divide(over, bottom)))) if remainder else upper
    divided = multiply(upper, polynomial(below, x))
    # x² + 1 - 4 would hide what was divided by: the bracket stays.
    put_together = Sum((divided, *summands(over))) if remainder else divided
    shown = Equation(polynomial(top, x), put_together)
    detail = (
        Shown("equal", shown.left, shown.right, say("Divide {top} by {bottom}.", top=polynomial(top, x), bottom=polynomial(below, x))),
    )
    reason = say("The numerator's degree is not below the denominator's: divide.")
    yield Step("division", integral(whole, question.variable, constant if constant != ONE else None), reason, detail=detail)


TECHNIQUE = Technique(
    id="division",
    title="Polynomial division",
    cost=2.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{x}{x - 6} \, dx"),
        Example(r"\int \frac{x^3 + 1}{x + 1} \, dx"),
        Example(r"\int \frac{x^2}{x^2 + 1} \, dx"),
        Example(r"\int \frac{1}{x + 1} \, dx", applies=False),
        Example(r"\int \frac{x^2 + 1}{x} \, dx", applies=False),
    ),
    explains="A fraction whose numerator's degree is not below the denominator's is a polynomial plus a proper fraction.",
)
