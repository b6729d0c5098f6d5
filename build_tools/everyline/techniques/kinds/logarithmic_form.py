"""Forms with a logarithm: 1 over a difference of squares, 1 over the root of x² ± a²."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import ONE, add, call, divide, multiply, negate, number, root, subtract
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Absolute, Integral, Node, Quotient
from ..asking import constant_and_rest
from ..base import Example, Shown, Step, Technique
from ..quadratics import Centred, centred, root_of, sign


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    powers = term_of(rest).powers
    if len(powers) != 1:
        return
    form = centred(powers[0][0], question.variable)
    if form is None:
        return
    signs = (sign(form.leading, question.given), sign(form.constant, question.given))
    plain: Node | None = None
    if powers[0][1] == -1 and signs in ((1, -1), (-1, 1)):
        plain = _difference(question, form)
    elif powers[0][1] == Fraction(-1, 2) and signs[0] == 1 and signs[1] != 0:
        plain = _root(question, form)
    if plain is None:
        return
    detail = (Shown("equal", Integral(rest, question.variable), plain),)
    yield Step("logarithmic-form", tidy(multiply(constant, plain)), say("This is a standard form with a logarithm."), detail=detail)


def _difference(question: Question, form: Centred) -> Node:
    """∫ 1/(A ℓ² + B): (1/2aA) ln|(ℓ - a)/(ℓ + a)|, a² = -B/A."""
    a = root_of(tidy(negate(divide(form.constant, form.leading))), question)
    front = tidy(divide(ONE, multiply(number(2), form.leading, form.slope, a)))
    return tidy(multiply(front, call("ln", Absolute(Quotient(tidy(subtract(form.line, a)), tidy(add(form.line, a)))))))


def _root(question: Question, form: Centred) -> Node:
    """∫ 1/√(A ℓ² + B): (1/√A) ln|√A ℓ + √(A ℓ² + B)|."""
    r = root_of(form.leading, question)
    whole = add(tidy(multiply(form.leading, form.line, form.line)), form.constant)
    inside = add(tidy(multiply(r, form.line)), root(whole))
    front = tidy(divide(ONE, multiply(r, form.slope)))
    return tidy(multiply(front, call("ln", Absolute(inside))))


TECHNIQUE = Technique(
    id="logarithmic-form",
    title="Forms with a logarithm",
    cost=4.6,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{x^2 - 11} \, dx"),
        Example(r"\int \frac{1}{\sqrt{x^2 + 3}} \, dx"),
        Example(r"\int \frac{1}{9 - 4x^2} \, dx"),
        Example(r"\int \frac{1}{x^2 + 11} \, dx", applies=False),
        Example(r"\int \frac{1}{\sqrt{11 - x^2}} \, dx", applies=False),
    ),
    after=("table",),
    explains="1/(x² - a²) and 1/√(x² ± a²) have antiderivatives with a logarithm.",
)
