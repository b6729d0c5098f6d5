"""1^∞ = 1: a base that tends to one, and an exponent that does not stay."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import ONE, names
from ...notation.question import Question
from ...notation.tree import Node, Power
from ..base import Example, Slip, no_repairs


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    if isinstance(question.body, Power) and question.variable in names(question.body.exponent):
        yield ONE


SLIP = Slip(
    id="power-of-one",
    title="One to the power infinity was read as one",
    explains="The base tends to one, but the exponent grows at the same time: the two pull against each other.",
    hint="Take the logarithm and look at the product.",
    kinds=("limit",),
    rank=1,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\lim_{x \to \infty} \left(1 + \frac{3}{x}\right)^x", r"e^3", r"1", repairable=False),
        Example(r"\lim_{x \to 0} (1 + 4x)^{1/x}", r"e^4", r"1", repairable=False),
    ),
)
