"""The standard forms that are known by heart."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.tidy import tidy
from ...notation.build import multiply
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Integral
from ..asking import constant_and_rest
from ..base import Example, Shown, Step, Technique
from ..forms import is_dear, table_form


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    found = table_form(rest, question.variable)
    if found is None:
        return
    detail = (Shown("equal", Integral(rest, question.variable), tidy(found)),)
    reason = say("This is a standard form of the table.")
    yield Step("table", tidy(multiply(constant, found)), reason, detail=detail, extra_cost=3.5 if is_dear(rest) else 0.0)


TECHNIQUE = Technique(
    id="table",
    title="Standard form",
    cost=1.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int 5\sin x \, dx"),
        Example(r"\int \frac{2}{1 + x^2} \, dx"),
        Example(r"\int \frac{1}{\sqrt{1 - x^2}} \, dx"),
        Example(r"\int \sec x\tan x \, dx"),
        Example(r"\int 7^x \, dx"),
        Example(r"\int \cosh x \, dx"),
        Example(r"\int \sin^3 x \, dx", applies=False),
        Example(r"\int \sec^2 3x \, dx", applies=False),
    ),
    explains="The integrand is, up to a constant factor, one of the derivatives that are known by heart.",
)
