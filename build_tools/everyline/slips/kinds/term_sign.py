"""One term with the wrong sign."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import ONE, add, negate
from ...notation.question import Question
from ...notation.tree import Node, Sum
from ..answers import rewrites
from ..base import Example, Slip
from ..linear import correction


def _turned(node: Node) -> Iterable[Node]:
    if isinstance(node, Sum):
        for place, term in enumerate(node.terms):
            yield add(*node.terms[:place], negate(term), *node.terms[place + 1 :])


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    return rewrites(right, _turned)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    yield from rewrites(claimed, _turned)
    found = correction(question, claimed)
    if found is not None and all(factor in (ONE, negate(ONE)) for factor in found.factors):
        yield found.repaired


SLIP = Slip(
    id="term-sign",
    title="The sign of one term",
    explains="The sign of {fault} is wrong.",
    hint="Differentiate your answer term by term and compare signs.",
    kinds=("indefinite", "derivative", "definite"),
    rank=6,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int 6x^2 - 8x \, dx", r"2x^3 - 4x^2 + C", r"2x^3 + 4x^2 + C"),
        Example(r"\frac{d}{dx} (x^3 - 7x^2)", r"3x^2 - 14x", r"3x^2 + 14x"),
    ),
)
