"""F(b) alone: the value at the lower limit was not subtracted."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import negate, substitute
from ...notation.question import Question
from ...notation.tree import Evaluation, Node
from ..base import Example, Slip, no_repairs


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    if isinstance(right, Evaluation):
        yield substitute(right.body, {right.variable: right.upper})
        yield negate(substitute(right.body, {right.variable: right.lower}))
        yield substitute(right.body, {right.variable: right.lower})


SLIP = Slip(
    id="lower-limit-ignored",
    title="The value at one limit was left out",
    explains="This is the antiderivative at one limit only; the difference of both is asked for.",
    hint="What is the antiderivative at the other limit? It is often not zero.",
    kinds=("definite",),
    rank=1,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\int_1^2 3x^2 \, dx", r"7", r"8", r"x^3", repairable=False),
        Example(r"\int_0^1 e^{5x} \, dx", r"\frac{e^5 - 1}{5}", r"\frac{e^5}{5}", r"\frac{e^{5x}}{5}", repairable=False),
    ),
)
