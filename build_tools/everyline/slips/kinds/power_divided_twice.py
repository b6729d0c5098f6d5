"""∫ x⁴ dx = x⁵/25: divided by the new power twice."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.question import Question
from ...notation.tree import Node
from ..answers import scale, with_one_term
from ..base import Example, Slip
from ..powers import exponents


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable
    return with_one_term(right, x, lambda tree: (scale(tree, 1 / exponent, x) for exponent in exponents(tree, x)))


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    x = question.variable
    return with_one_term(claimed, x, lambda tree: (scale(tree, exponent, x) for exponent in exponents(tree, x)))


SLIP = Slip(
    id="power-divided-twice",
    title="Divided by the new power twice",
    explains="In {fault} the new exponent is divided by twice; once is enough.",
    hint="How often does the exponent come down when you differentiate?",
    kinds=("indefinite",),
    rank=3,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int x^6 \, dx", r"\frac{x^7}{7} + C", r"\frac{x^7}{49} + C"),
        Example(r"\int (x + 4)^3 - x \, dx", r"\frac{(x + 4)^4}{4} - \frac{x^2}{2} + C", r"\frac{(x + 4)^4}{16} - \frac{x^2}{2} + C"),
    ),
)
