"""The whole answer with the wrong sign."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import add, negate
from ...notation.question import Question
from ...notation.tree import Node
from ..answers import constants, terms
from ..base import Example, Slip


def change(question: Question, answer: Node) -> Iterable[Node]:
    if question.kind != "indefinite":
        yield negate(answer)
        return
    x = question.variable
    yield add(*(negate(part.tree) for part in terms(answer, x)), *constants(answer, x))


SLIP = Slip(
    id="overall-sign",
    title="The sign of the whole answer",
    explains="The whole answer has the wrong sign.",
    hint="Differentiate your answer and compare signs.",
    kinds=("indefinite", "derivative"),
    rank=6,
    leads_to=change,
    repairs=change,
    examples=(
        Example(r"\int 9\csc^2 x \, dx", r"-9\cot x + C", r"9\cot x + C"),
        Example(r"\frac{d}{dx} \frac{5}{x^4}", r"-\frac{20}{x^5}", r"\frac{20}{x^5}"),
    ),
)
