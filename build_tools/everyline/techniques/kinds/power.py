"""The power rule, with ln|x| for the power -1."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.tidy import tidy
from ...notation.build import multiply
from ...notation.message import say, sentence
from ...notation.question import Question
from ...notation.tree import Call
from ..asking import constant_and_rest
from ..base import Example, Step, Technique
from ..forms import power_form

WITH_BARS = sentence("The power rule does not cover the exponent −1. Here the antiderivative is the logarithm, with bars.")
WITHOUT_BARS = sentence(
    "The power rule does not cover the exponent −1. Here the antiderivative is the logarithm, without bars: {x} can only be positive here."
)


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    found = power_form(rest, question.variable)
    if found is None:
        return
    reason = say(WITH_BARS) if isinstance(found, Call) else say("Raise the power by one and divide by the new power.")
    yield Step("power", tidy(multiply(constant, found)), reason)


TECHNIQUE = Technique(
    id="power",
    title="Power rule",
    cost=1.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int x^7 \, dx"),
        Example(r"\int \frac{4}{x} \, dx"),
        Example(r"\int 6 \, dx"),
        Example(r"\int \frac{5}{2\sqrt[3]{x}} \, dx"),
        Example(r"\int x\sin x \, dx", applies=False),
        Example(r"\int (x + 1)^2 \, dx", applies=False),
    ),
    explains="A power of the variable: raise the exponent by one and divide by the new exponent.",
)
