"""A limit with the wrong sign."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import negate
from ...notation.question import Question
from ...notation.tree import Diverges, DoesNotExist, Node
from ..base import Example, Slip


def change(question: Question, answer: Node) -> Iterable[Node]:
    if not isinstance(answer, Diverges | DoesNotExist):
        yield negate(answer)


SLIP = Slip(
    id="limit-sign",
    title="The sign of the limit",
    explains="The limit has the wrong sign. Roots of squares are never negative, and near the point each factor has a sign of its own.",
    hint="Put in a number close by: is the value positive or negative?",
    kinds=("limit",),
    rank=2,
    leads_to=change,
    repairs=change,
    examples=(
        Example(r"\lim_{x \to -\infty} \frac{5x}{\sqrt{x^2 + 3}}", r"-5", r"5"),
        Example(r"\lim_{x \to 2} \frac{2 - x}{x^2 - 4}", r"-\frac{1}{4}", r"\frac{1}{4}"),
    ),
)
