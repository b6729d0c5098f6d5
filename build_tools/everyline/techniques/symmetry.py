"""Symmetry about zero between opposite limits: odd halves cancel, even halves are equal."""

from __future__ import annotations

from collections.abc import Iterator

from ..algebra.numbers import infinite
from ..algebra.tidy import tidy
from ..notation.build import TWO, ZERO, add, multiply, names, negate, substitute, subtract
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Integral, Name
from .base import Example, Step, Technique


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None or infinite(node.lower) or infinite(node.upper):
        return
    if tidy(add(node.lower, node.upper)) != ZERO or tidy(node.lower) == ZERO:
        return
    body = tidy(node.integrand)
    mirrored = tidy(substitute(body, {node.variable: negate(Name(node.variable))}))
    if tidy(add(mirrored, body)) == ZERO:
        yield Step("symmetry", ZERO, say("The integrand is odd and the limits are opposite: the two halves cancel."))
    elif tidy(subtract(mirrored, body)) == ZERO and node.variable in names(body):
        half = multiply(TWO, Integral(body, node.variable, ZERO, node.upper))
        yield Step("symmetry", half, say("The integrand is even and the limits are opposite: both halves are the same."), extra_cost=1.0)


TECHNIQUE = Technique(
    id="symmetry",
    title="Symmetry",
    cost=1.0,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_{-2}^{2} x^5 \, dx"),
        Example(r"\int_{-\pi}^{\pi} x^2 \sin 3x \, dx"),
        Example(r"\int_{-2}^{2} (x^4 + \cos x) \, dx"),
        Example(r"\int_{-2}^{2} (x^4 + x) \, dx", applies=False),
        Example(r"\int_{-1}^{2} x^5 \, dx", applies=False),
    ),
    explains="An odd function has as much area below the axis on one side of zero as above it on the other; an even one has it twice.",
)
