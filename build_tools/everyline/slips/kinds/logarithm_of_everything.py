"""∫ dx/(x² + 1) = ln(x² + 1): a logarithm for every denominator."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import call, multiply, names
from ...notation.question import Question
from ...notation.tree import Absolute, Node, Quotient
from ..answers import coefficient, slope
from ..base import Example, Slip, no_repairs


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable
    _, _, core = coefficient(question.body, x)
    if isinstance(core, Quotient) and x in names(core.bottom) and slope(core.bottom, x) is None:
        logarithm = call("ln", Absolute(core.bottom))
        yield logarithm
        yield multiply(core.top, logarithm)
        yield call("ln", core.bottom)


SLIP = Slip(
    id="logarithm-of-everything",
    title="A logarithm was taken of the whole denominator",
    explains="The derivative of the logarithm of a denominator has the denominator's derivative on top, and here that is not on top.",
    hint="Differentiate your logarithm, chain rule included.",
    kinds=("indefinite",),
    rank=3,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\int \frac{1}{x^2 + 1} \, dx", r"\arctan x + C", r"\ln(x^2 + 1) + C", repairable=False),
        Example(r"\int \frac{1}{x^4} \, dx", r"-\frac{1}{3x^3} + C", r"\ln|x^4| + C", repairable=False),
    ),
)
