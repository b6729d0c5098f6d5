"""The arctangent form: 1 over a square plus a positive constant."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.common import in_whole_numbers
from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import ONE, call, divide, multiply
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Integral, Name
from ..asking import constant_and_rest
from ..base import Example, Shown, Step, Technique
from ..quadratics import centred, root_of, sign


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    powers = term_of(rest).powers
    if len(powers) != 1 or powers[0][1] != -1:
        return
    form = centred(powers[0][0], question.variable)
    if form is None or sign(form.leading, question.given) != sign(form.constant, question.given) or not sign(form.leading, question.given):
        return
    if form.leading == ONE == form.constant and form.line == Name(question.variable):
        return  # the table has it
    if sign(form.leading, question.given) < 0:
        return
    a = root_of(tidy(divide(form.constant, form.leading)), question)
    inside = tidy(multiply(*in_whole_numbers(tidy(divide(ONE, a)), form.line)))
    below = tidy(multiply(form.leading, a, form.slope))
    result = tidy(multiply(constant, divide(ONE, below), call("arctan", inside)))
    rule = Shown("equal", Integral(rest, question.variable), tidy(multiply(divide(ONE, below), call("arctan", inside))))
    reason = say("This is the arctangent form.") if a == Name("a") else say("This is the arctangent form with a = {a}.", a=a)
    yield Step("arctangent-form", result, reason, detail=(rule,))


TECHNIQUE = Technique(
    id="arctangent-form",
    title="Arctangent form",
    cost=2.2,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{x^2 + 49} \, dx"),
        Example(r"\int \frac{6}{4x^2 + 5} \, dx"),
        Example(r"\int \frac{1}{(x - 3)^2 + 7} \, dx"),
        Example(r"\int \frac{1}{x^2 - 49} \, dx", applies=False),
        Example(r"\int \frac{x}{x^2 + 49} \, dx", applies=False),
    ),
    after=("table",),
    explains="1/(x² + a²) has the antiderivative (1/a) arctan(x/a).",
)
