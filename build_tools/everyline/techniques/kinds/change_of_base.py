"""Logarithms and exponentials of other bases, written with the natural ones."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.tidy import tidy
from ...notation.build import call, divide, names, replace, walk
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Derivative, Integral, Limit, Logarithm, Node, Quotient
from ..base import Example, Shown, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    node = question.node
    body = question.body
    found = [p for p in dict.fromkeys(walk(body)) if isinstance(p, Logarithm) and question.variable in names(p.argument)]
    if not found:
        return
    new = body
    shown = []
    for part in found:
        natural = divide(call("ln", part.argument), call("ln", part.base))
        new = replace(new, part, natural)
        shown.append(Shown("equal", part, natural))
    yield Step(
        "change-of-base",
        _asked(node, tidy(new) if isinstance(body, Quotient) else new),
        say("Write the logarithm with the natural one."),
        detail=tuple(shown),
    )


def _asked(node: Node, body: Node) -> Node:
    """The same question of another expression."""
    if isinstance(node, Integral):
        return Integral(body, node.variable)
    if isinstance(node, Derivative):
        return Derivative(body, node.variable, node.order)
    assert isinstance(node, Limit)
    return Limit(body, node.variable, node.point, node.side)


TECHNIQUE = Technique(
    id="change-of-base",
    title="Natural logarithm first",
    cost=1.2,
    kinds=("indefinite", "derivative", "limit"),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{x\log_{10} x} \, dx"),
        Example(r"\frac{d}{dx}\log_2(x^2 + 1)"),
        Example(r"\lim_{x \to 1} \frac{\log_2 x}{x - 1}"),
        Example(r"\int \ln x \, dx", applies=False),
        Example(r"\frac{d}{dx}\ln(x^2 + 1)", applies=False),
    ),
    explains="log_b x is ln x / ln b, so another base is a constant factor.",
)
