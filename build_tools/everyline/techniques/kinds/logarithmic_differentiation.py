"""A power with the variable below and above: through the exponential of a logarithm."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.expand import split_constant
from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import E, call, multiply, names
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Derivative, Power
from ..base import Example, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    x = question.variable
    constant, rest = split_constant(question.body, x)
    powers = term_of(rest).powers
    if len(powers) != 1:
        return
    base, exponent = powers[0]
    if isinstance(exponent, Fraction) or x not in names(base) or x not in names(exponent):
        return
    inner = tidy(multiply(exponent, call("ln", base)))
    result = multiply(constant, rest, Derivative(inner, x))
    written = multiply(constant, Derivative(Power(E, inner), x))
    through = ((written, say("Write the power as an exponential.")),)
    yield Step(
        "logarithmic-differentiation",
        result,
        say("Chain rule: the exponential stays, times the derivative of its exponent {inner}.", inner=inner),
        through=through,
    )


TECHNIQUE = Technique(
    id="logarithmic-differentiation",
    title="Logarithmic differentiation",
    cost=3.0,
    kinds=("derivative",),
    propose=propose,
    examples=(
        Example(r"\frac{d}{dx}x^{2x}"),
        Example(r"\frac{d}{dx}(\sin x)^x"),
        Example(r"\frac{d}{dx}x^3", applies=False),
        Example(r"\frac{d}{dx}2^x", applies=False),
    ),
    explains="f^g = e^{g ln f}: the exponent is differentiated by the product rule.",
)
