"""∫ cos 3x dx = sin 3x: the inner derivative was not divided out."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import ONE, divide
from ...notation.question import Question
from ...notation.tree import Node
from ..answers import scale, slopes, with_one_term
from ..base import Example, Slip


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable
    return with_one_term(right, x, lambda term: (scale(term, slope, x) for slope in slopes(term, x)))


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    x = question.variable
    return with_one_term(claimed, x, lambda term: (scale(term, divide(ONE, slope), x) for slope in slopes(term, x)))


SLIP = Slip(
    id="inner-derivative-lost",
    title="The inner derivative was not divided out",
    explains="Differentiating {fault} brings out the derivative of its inside, and nothing in the answer cancels that factor.",
    hint="Differentiate your answer. Which factor comes out of the inside?",
    kinds=("indefinite",),
    rank=2,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int \cos 7x \, dx", r"\frac{1}{7} \sin 7x + C", r"\sin 7x + C"),
        Example(r"\int e^{-x} + x^4 \, dx", r"-e^{-x} + \frac{x^5}{5} + C", r"e^{-x} + \frac{x^5}{5} + C"),
        Example(r"\int (4 - 3x)^6 \, dx", r"-\frac{(4 - 3x)^7}{21} + C", r"\frac{(4 - 3x)^7}{7} + C"),
    ),
)
