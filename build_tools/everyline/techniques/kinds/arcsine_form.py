"""The arcsine form: 1 over the root of a positive constant less a square; and the arcsecant form beside it."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.common import in_whole_numbers
from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import ONE, call, divide, multiply, negate
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Absolute, Integral, Name, Node
from ..asking import constant_and_rest
from ..base import Example, Shown, Step, Technique
from ..quadratics import Centred, centred, root_of, sign

_HALF = Fraction(-1, 2)


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    powers = dict(term_of(rest).powers)
    roots = [b for b, e in powers.items() if e == _HALF]
    form = centred(roots[0], question.variable) if len(roots) == 1 else None
    if form is None:
        return
    signs = (sign(form.leading, question.given), sign(form.constant, question.given))
    if len(powers) == 1 and signs == (-1, 1):
        yield _arcsine(question, constant, rest, form)
    elif len(powers) == 2 and signs == (1, -1) and powers.get(form.line) == -1:
        yield _arcsecant(question, constant, rest, form)


def _arcsine(question: Question, constant: Node, rest: Node, form: Centred) -> Step:
    leading = negate(form.leading)
    a = root_of(tidy(divide(form.constant, leading)), question)
    inside = tidy(multiply(*in_whole_numbers(tidy(divide(ONE, a)), form.line)))
    front = tidy(divide(ONE, multiply(root_of(leading, question), form.slope)))
    plain = tidy(multiply(front, call("arcsin", inside)))
    reason = say("This is the arcsine form.") if a == Name("a") else say("This is the arcsine form with a = {a}.", a=a)
    return Step("arcsine-form", tidy(multiply(constant, plain)), reason, detail=(Shown("equal", Integral(rest, question.variable), plain),))


def _arcsecant(question: Question, constant: Node, rest: Node, form: Centred) -> Step:
    a = root_of(tidy(divide(negate(form.constant), form.leading)), question)
    inside = tidy(divide(Absolute(form.line), a))
    front = tidy(divide(ONE, multiply(root_of(form.leading, question), form.slope, a)))
    plain = tidy(multiply(front, call("arcsec", inside)))
    reason = say("This is the arcsecant form.") if a == Name("a") else say("This is the arcsecant form with a = {a}.", a=a)
    detail = (Shown("equal", Integral(rest, question.variable), plain),)
    return Step("arcsine-form", tidy(multiply(constant, plain)), reason, detail=detail, extra_cost=1.0)


TECHNIQUE = Technique(
    id="arcsine-form",
    title="Arcsine and arcsecant forms",
    cost=2.2,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{\sqrt{25 - x^2}} \, dx"),
        Example(r"\int \frac{3}{\sqrt{7 - 4x^2}} \, dx"),
        Example(r"\int \frac{1}{x\sqrt{x^2 - 36}} \, dx"),
        Example(r"\int \frac{1}{\sqrt{x^2 + 25}} \, dx", applies=False),
        Example(r"\int \frac{x}{\sqrt{25 - x^2}} \, dx", applies=False),
    ),
    after=("table",),
    explains="1/√(a² - x²) has the antiderivative arcsin(x/a), 1/(x√(x² - a²)) has (1/a) arcsec(|x|/a).",
)
