"""A term that was left out."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import add
from ...notation.question import Question
from ...notation.tree import Node, Sum
from ..answers import constants, terms
from ..base import Example, Slip
from ..companions import completed


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    if question.kind == "derivative" and isinstance(right, Sum):
        yield from (add(*right.terms[:place], *right.terms[place + 1 :]) for place in range(len(right.terms)))
    parts = [part.tree for part in terms(right, question.variable)]
    for place in range(len(parts)):
        if len(parts) > 1:
            yield add(*parts[:place], *parts[place + 1 :], *constants(right, question.variable))


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    return completed(question, claimed)


SLIP = Slip(
    id="term-dropped",
    title="A term was left out",
    explains="A term is missing: what is there is right as far as it goes.",
    hint="Differentiate your answer. Which part of the question does not come out?",
    kinds=("indefinite", "derivative"),
    rank=7,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int x^3 - \sin 4x \, dx", r"\frac{x^4}{4} + \frac{1}{4}\cos 4x + C", r"\frac{x^4}{4} + C"),
        Example(r"\int \tan^2 5x \, dx", r"\frac{1}{5}\tan 5x - x + C", r"\frac{1}{5}\tan 5x + C"),
        Example(r"\frac{d}{dx} (9x^2 + 4x - 1)", r"18x + 4", r"18x", repairable=False),
    ),
)
