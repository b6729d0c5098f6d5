"""Whether numbers suit a question: nothing of it lost, no fraction left uncancelled, and how heavy the numbers are."""

from __future__ import annotations

import math

from ..notation.build import multiplicands, names, walk
from ..notation.message import sentence
from ..notation.question import Question
from ..notation.tree import Integral, Negative, Node, Number, Quotient, Sum
from .data import Instance
from .neat import distinct, skeleton

#: No number in a question is larger, and none in an answer.
IN_QUESTION, IN_ANSWER = 100, 1000


def lost(question: Question, keys: tuple[Node, ...], made: Instance) -> str:
    """What an instance has lost against its family's question and keys, in words; empty when it is a good one."""
    x = question.variable
    before, after = question.node, made.question.node
    if isinstance(after, Integral) and after.lower is not None and after.lower == after.upper:
        return sentence("the limits are the same")
    if skeleton(before, x) != skeleton(after, x):
        return sentence("a part of the question vanishes")
    trees = [verdict.tree for verdict in made.keys if verdict.tree is not None]
    if any(skeleton(old, x) != skeleton(new, x) for old, new in zip(keys, trees, strict=True)):
        return sentence("a part of the answer vanishes")
    if distinct(before, x) != distinct(after, x) or any(distinct(old, x) != distinct(new, x) for old, new in zip(keys, trees, strict=True)):
        return sentence("two parts become the same")
    if _largest(after) > IN_QUESTION or any(_largest(tree) > IN_ANSWER for tree in trees):
        return sentence("the numbers grow too large")
    return sentence("a fraction is not in lowest terms") if any(_reducible(tree, x) for tree in (after, *trees)) else ""


def _largest(node: Node) -> float:
    return max((float(part.value) for part in walk(node) if isinstance(part, Number)), default=0.0)


def _reducible(node: Node, variable: str) -> bool:
    """Whether a fraction has a number above and below that a teacher would cancel: (4x + 2)/2, 3/(6x + 9)."""
    return any(
        isinstance(part, Quotient) and variable in names(part) and math.gcd(_content(part.top), _content(part.bottom)) > 1
        for part in walk(node)
    )


def _content(node: Node) -> int:
    """The whole number that divides every term of a sum, or stands in front of a product; 1 where there is none."""
    if isinstance(node, Sum):
        return math.gcd(*(_content(term) for term in node.terms))
    inner = node.argument if isinstance(node, Negative) else node
    factors = multiplicands(inner)
    found = [int(f.value) for f in factors if isinstance(f, Number) and not f.places]
    return math.prod(found) if found else 1


def weight(question: Node, answers: tuple[Node, ...]) -> float:
    """How heavy the numbers of an instance are, the answer's counted half as much again; small is nice."""

    def size(node: Node) -> float:
        numbers = sum(math.log2(1 + float(part.value)) for part in walk(node) if isinstance(part, Number))
        sums = [part for part in walk(node) if isinstance(part, Sum)]
        clumsy = sum(8 for part in sums if _content(part) > 1) + sum(6 for part in sums if isinstance(part.terms[0], Negative))
        return numbers + clumsy

    return size(question) + 1.5 * sum(map(size, answers)) / max(len(answers), 1)
