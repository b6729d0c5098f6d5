"""0/0 = 1, 0·∞ = 1: an indeterminate form read as one."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import ONE
from ...notation.question import Question
from ...notation.tree import Node, Product, Quotient
from ..base import Example, Slip, no_repairs


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    if isinstance(question.body, Quotient | Product):
        yield ONE


SLIP = Slip(
    id="indeterminate-read-as-one",
    title="An indeterminate form was read as one",
    explains="Top and bottom were taken to cancel because both tend to the same; what counts is how fast each does.",
    hint="Put in a number close by. Is the value close to one?",
    kinds=("limit",),
    rank=1,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\lim_{x \to 0} \frac{\tan 5x}{x}", r"5", r"1", repairable=False),
        Example(r"\lim_{x \to \infty} \frac{x^3}{e^x}", r"0", r"1", repairable=False),
    ),
)
