"""Sine for cosine, tangent for secant: one function in place of another."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.question import Question
from ...notation.tree import Call, Node
from ..answers import one_or_all
from ..base import Example, Slip
from ..corruptions import PARTNERS


def _swapped(node: Node) -> Iterable[Node]:
    if isinstance(node, Call):
        for partner in PARTNERS.get(node.function, ()):
            yield Call(partner, node.argument)


def _back(node: Node) -> Iterable[Node]:
    if isinstance(node, Call):
        for name, partners in PARTNERS.items():
            if node.function in partners:
                yield Call(name, node.argument)


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    return one_or_all(right, _swapped)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    return one_or_all(claimed, _back)


SLIP = Slip(
    id="function-swapped",
    title="One function was taken for another",
    explains="{fault} is the wrong function: two functions that belong together were mistaken for each other.",
    hint="Differentiate your answer. Does the function of the question come out?",
    kinds=("indefinite", "derivative", "definite"),
    rank=7,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int 3\cos x + x \, dx", r"3\sin x + \frac{x^2}{2} + C", r"3\cos x + \frac{x^2}{2} + C"),
        Example(r"\frac{d}{dx} (x \tan x)", r"\tan x + x\sec^2 x", r"\tan x + x\tan^2 x"),
    ),
)
