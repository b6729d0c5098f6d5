"""∫ u dv = uv: the remaining integral was forgotten."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import add
from ...notation.question import Question
from ...notation.tree import Node
from ..answers import constants, terms
from ..base import Example, Slip
from ..companions import completed
from .parts_sign import by_parts


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    """uv alone: the first term, or the first few."""
    x = question.variable
    parts = [part.tree for part in terms(right, x)]
    if by_parts(question.body, x):
        yield from (add(*parts[:end], *constants(right, x)) for end in range(1, len(parts)))


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    if by_parts(question.body, question.variable) and len(terms(claimed, question.variable)) == 1:
        yield from completed(question, claimed)


SLIP = Slip(
    id="parts-remainder-lost",
    title="The remaining integral of integration by parts was forgotten",
    explains="{fault} is only the first half of integration by parts: ∫ v du still has to be subtracted.",
    hint="Differentiate your answer with the product rule. What is too much?",
    kinds=("indefinite",),
    rank=3,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int 4x e^{4x} \, dx", r"x e^{4x} - \frac{1}{4} e^{4x} + C", r"x e^{4x} + C"),
        Example(r"\int \arctan x \, dx", r"x\arctan x - \frac{1}{2}\ln(1 + x^2) + C", r"x\arctan x + C"),
        Example(r"\int x \sin 3x \, dx", r"-\frac{x}{3}\cos 3x + \frac{1}{9}\sin 3x + C", r"-\frac{x}{3}\cos 3x + C"),
    ),
)
