"""The chain rule."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.expand import split_constant
from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import call, multiply, names, number, power, substitute
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Derivative, Name, Node
from ..asking import differentiate
from ..base import Example, Step, Technique
from .derivative_logarithm import apart

#: How much longer the way is where the laws of logarithms come first.
LONGER = 3.0


def propose(question: Question) -> Iterable[Step]:
    x = question.variable
    constant, rest = split_constant(question.body, x)
    found = outside(rest, x)
    if found is None:
        return
    outer, inner, letter = found
    slope = tidy(substitute(differentiate(outer, letter), {letter: inner}))
    result = multiply(constant, slope, Derivative(inner, x))
    reason = say("Chain rule: differentiate the outside, times the derivative of the inside {inside}.", inside=inner)
    yield Step("derivative-chain", result, reason, extra_cost=LONGER if apart(rest, x) else 0.0)


def outside(rest: Node, variable: str) -> tuple[Node, Node, str] | None:
    """(outside in a new letter, inside, the letter) of one function of something that is not the variable alone."""
    powers = term_of(rest).powers
    if len(powers) != 1:
        return None
    base, exponent = powers[0]
    letter = next(n for n in "uvwst" if n not in names(rest) and n != variable)
    u, x = Name(letter), Name(variable)
    if not isinstance(exponent, Fraction):
        if variable in names(base):
            return None if variable in names(exponent) or base == x else (power(u, exponent), base, letter)
        return None if exponent == x else (power(base, u), exponent, letter)
    if exponent != 1:
        return None if base == x else (power(u, number(exponent)), base, letter)
    if isinstance(base, Call) and base.argument != x:
        if base.function == "ln" and isinstance(base.argument, Absolute):
            inner = base.argument.argument
            return None if inner == x else (call("ln", Absolute(u)), inner, letter)
        return call(base.function, u), base.argument, letter
    if isinstance(base, Absolute) and base.argument != x:
        return Absolute(u), base.argument, letter
    return None


TECHNIQUE = Technique(
    id="derivative-chain",
    title="Chain rule",
    cost=1.5,
    kinds=("derivative",),
    propose=propose,
    examples=(
        Example(r"\frac{d}{dx}\sin(x^2 + 1)"),
        Example(r"\frac{d}{dx}(x^3 - 2)^5"),
        Example(r"\frac{d}{dx}e^{-x^2}"),
        Example(r"\frac{d}{dx}\sin x", applies=False),
        Example(r"\frac{d}{dx}(x\sin x)", applies=False),
    ),
    explains="The derivative of the outside at the inside, times the derivative of the inside.",
)
