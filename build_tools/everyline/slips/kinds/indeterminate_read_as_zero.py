"""0/0 = 0: an indeterminate form read as zero."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import ZERO
from ...notation.question import Question
from ...notation.tree import Node, Product, Quotient, Sum
from ..base import Example, Slip, no_repairs


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    if isinstance(question.body, Quotient | Product | Sum):
        yield ZERO


SLIP = Slip(
    id="indeterminate-read-as-zero",
    title="An indeterminate form was read as zero",
    explains="Nought over nought, like infinity over infinity, is no number: it only says that there is something left to do.",
    hint="Can you cancel, or compare how fast top and bottom go?",
    kinds=("limit",),
    rank=1,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\lim_{x \to 0} \frac{\tan 5x}{x}", r"5", r"0", repairable=False),
        Example(r"\lim_{x \to \infty} \frac{4x^2 + x}{3x^2 - 8}", r"\frac{4}{3}", r"0", repairable=False),
    ),
)
