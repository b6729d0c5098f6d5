"""The derivative of a sum, and of a constant multiple."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.expand import split_constant
from ...algebra.tidy import tidy
from ...notation.build import ONE, add, multiply, names, negate, summands
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Derivative, Negative, Node, Sum
from ..base import Example, Step, Technique
from .derivative_table import is_known


def propose(question: Question) -> Iterable[Step]:
    body, x = question.body, question.variable
    terms = _terms(body)
    if len(terms) > 1:
        yield Step("derivative-sum", add(*(_one(t, x) for t in terms)), say("Differentiate term by term."))
        return
    constant, rest = split_constant(body, x)
    if constant != ONE and not is_known(rest, x):
        yield Step("derivative-sum", multiply(constant, Derivative(rest, x)), say("A constant factor stays."), extra_cost=-0.4)


def _terms(body: Node) -> tuple[Node, ...]:
    if isinstance(body, Negative) and isinstance(body.argument, Sum):
        return tuple(negate(t) for t in body.argument.terms)
    return summands(body)


def _one(term: Node, variable: str) -> Node:
    if variable not in names(term):
        return Derivative(term, variable)
    constant, rest = split_constant(tidy(term), variable)
    return multiply(constant, Derivative(rest, variable))


TECHNIQUE = Technique(
    id="derivative-sum",
    title="Sum rule",
    cost=0.5,
    kinds=("derivative",),
    propose=propose,
    examples=(
        Example(r"\frac{d}{dx}(x^3 - 4x)"),
        Example(r"\frac{d}{dx}(3x\sin x)"),
        Example(r"\frac{d}{dx}(x\sin x)", applies=False),
    ),
    explains="Sums are differentiated term by term and constant factors stay.",
)
