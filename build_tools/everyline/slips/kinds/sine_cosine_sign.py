"""∫ sin x dx = cos x: the sign of the antiderivative of a sine or cosine."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import negate
from ...notation.question import Question
from ...notation.tree import Node
from ..answers import has_call, with_one_term
from ..base import Example, Slip


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    if not has_call(question.body, "sin", "cos"):
        return ()
    functions = ("sin", "cos")
    return with_one_term(right, question.variable, lambda term: (negate(term),) if has_call(term, *functions) else ())


SLIP = Slip(
    id="sine-cosine-sign",
    title="The sign of the antiderivative of a sine or cosine",
    explains="The sign of {fault} is wrong: cosine differentiates to minus sine, so minus cosine is what differentiates to sine.",
    hint="Differentiate sine and cosine once more and watch the signs.",
    kinds=("indefinite",),
    rank=3,
    leads_to=leads_to,
    repairs=leads_to,
    examples=(
        Example(r"\int 6\sin x \, dx", r"-6\cos x + C", r"6\cos x + C"),
        Example(r"\int x + \cos x \, dx", r"\frac{x^2}{2} + \sin x + C", r"\frac{x^2}{2} - \sin x + C"),
        Example(r"\int \sin x \cos^6 x \, dx", r"-\frac{\cos^7 x}{7} + C", r"\frac{\cos^7 x}{7} + C"),
    ),
)
