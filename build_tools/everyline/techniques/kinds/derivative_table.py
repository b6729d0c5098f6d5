"""Derivatives known by heart: constants, powers of the variable, the standard functions of the variable itself."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.expand import split_constant
from ...algebra.terms import Exponent, as_node, term_of
from ...algebra.tidy import tidy
from ...notation.build import multiply, names
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Name, Node, Power, Quotient, Root
from ..asking import differentiate
from ..base import Example, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    x = question.variable
    constant, rest = split_constant(question.body, x)
    if not is_known(rest, x):
        return
    powers = term_of(rest).powers
    if not powers:
        reason = say("The derivative of a constant is zero.") if x not in names(question.body) else say("Differentiate by the table.")
    elif powers[0][0] == Name(x):
        reason = _power_rule(rest, powers[0][1], x)
    else:
        reason = say("Differentiate by the table.")
    yield Step("derivative-table", tidy(multiply(constant, differentiate(rest, x))), reason)


def _power_rule(rest: Node, exponent: Exponent, variable: str) -> Message:
    """The power rule in the words that fit: a line has a slope, a root and a fraction are powers first."""
    if exponent == 1:
        return say("A multiple of {x} has a constant slope.", x=Name(variable))
    if isinstance(rest, Quotient | Root):
        return say("As the power {power}: bring the power down and lower it by one.", power=Power(Name(variable), as_node(exponent)))
    return say("Bring the power down and lower it by one.")


def is_known(rest: Node, variable: str) -> bool:
    """One power of the variable, one exponential with it as exponent, one standard function of it."""
    powers = term_of(rest).powers
    if not powers:
        return True
    if len(powers) != 1:
        return False
    base, exponent = powers[0]
    x = Name(variable)
    if base == x:
        return isinstance(exponent, Fraction) or variable not in names(exponent)
    if exponent == x:
        return variable not in names(base)
    if exponent != 1:
        return False
    inner = base.argument if isinstance(base, Call | Absolute) else None
    return inner == x or (isinstance(base, Call) and base.function == "ln" and inner == Absolute(x))


TECHNIQUE = Technique(
    id="derivative-table",
    title="Derivative from the table",
    cost=1.0,
    kinds=("derivative",),
    propose=propose,
    examples=(
        Example(r"\frac{d}{dx}(5x^4)"),
        Example(r"\frac{d}{dx}(\ln 17)"),
        Example(r"\frac{d}{dx}(3\arctan x)"),
        Example(r"\frac{d}{dx}(2^x)"),
        Example(r"\frac{d}{dx}(x\sin x)", applies=False),
        Example(r"\frac{d}{dx}\sin(x^2)", applies=False),
    ),
    explains="The derivatives of powers and of the standard functions are known by heart.",
)
