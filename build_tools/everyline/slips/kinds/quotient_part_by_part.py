"""∫ f/g dx = ∫f / ∫g: a quotient integrated top and bottom apart."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import divide, multiply, names
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Name, Node, Quotient
from ..base import Example, Slip, no_repairs
from ..integrals import antiderivative


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable
    body = question.body
    if not isinstance(body, Quotient) or x not in names(body.bottom):
        return
    top, bottom = antiderivative(body.top, x), antiderivative(body.bottom, x)
    if top is not None and bottom is not None:
        yield divide(top, bottom)
    if top is not None and top != Name(x):
        yield multiply(top, Call("ln", Absolute(body.bottom)))


SLIP = Slip(
    id="quotient-part-by-part",
    title="A quotient was integrated part by part",
    explains="Top and bottom were integrated on their own. There is no such rule: check it with the quotient rule.",
    hint="Can the quotient be split or divided first, or is the top the derivative of something below?",
    kinds=("indefinite",),
    rank=1,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\int \frac{x}{x + 4} \, dx", r"x - 4\ln|x + 4| + C", r"\frac{x^2}{2}\ln|x + 4| + C", repairable=False),
        Example(
            r"\int \frac{x^3}{x^2 + 1} \, dx",
            r"\frac{x^2}{2} - \frac{1}{2}\ln(x^2 + 1) + C",
            r"\frac{\frac{x^4}{4}}{\frac{x^3}{3} + x}",
            repairable=False,
        ),
    ),
)
