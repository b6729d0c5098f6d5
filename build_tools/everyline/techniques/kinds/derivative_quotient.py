"""The quotient rule."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.expand import split_constant
from ...algebra.terms import term_of
from ...algebra.tidy import join
from ...notation.build import ONE, divide, multiply, power, subtract
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Derivative, Quotient
from ..base import Example, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    x = question.variable
    constant, rest = split_constant(question.body, x)
    above, below = term_of(rest).halves
    if not below.powers or not above.powers:
        return
    top, bottom = join(above), join(below)
    if isinstance(question.body, Quotient) and constant == ONE:
        top, bottom = question.body.top, question.body.bottom
    upper = subtract(multiply(Derivative(top, x), bottom), multiply(top, Derivative(bottom, x)))
    result = multiply(constant, divide(upper, power(bottom, 2)))
    reason = say("Quotient rule: top differentiated times bottom, less top times bottom differentiated, over the bottom squared.")
    yield Step("derivative-quotient", result, reason)


TECHNIQUE = Technique(
    id="derivative-quotient",
    title="Quotient rule",
    cost=2.0,
    kinds=("derivative",),
    propose=propose,
    examples=(
        Example(r"\frac{d}{dx}\frac{\sin x}{x + 2}"),
        Example(r"\frac{d}{dx}\frac{x^2}{e^x + 1}"),
        Example(r"\frac{d}{dx}(x\sin x)", applies=False),
        Example(r"\frac{d}{dx}\frac{1}{x^2}", applies=False),
    ),
    explains="(f/g)' = (f'g - fg')/g².",
)
