"""F(b) + F(a): the value at the lower limit was added instead of subtracted."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import add, substitute
from ...notation.question import Question
from ...notation.tree import Evaluation, Node
from ..base import Example, Slip, no_repairs


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    if isinstance(right, Evaluation):
        yield add(*(substitute(right.body, {right.variable: end}) for end in (right.upper, right.lower)))


SLIP = Slip(
    id="limits-added",
    title="The value at the lower limit was added",
    explains="The antiderivative's values at the two limits were added; the one at the lower limit has to be subtracted.",
    hint="Put the value at the lower limit in brackets before you subtract it.",
    kinds=("definite",),
    rank=1,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\int_1^2 3x^2 \, dx", r"7", r"9", r"x^3", repairable=False),
        Example(r"\int_{-1}^4 (7 - 2x) \, dx", r"20", r"4", r"7x - x^2", repairable=False),
    ),
)
