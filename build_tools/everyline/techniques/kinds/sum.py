"""Linearity: a sum is integrated term by term, a constant factor stands in front."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.expand import split_constant
from ...algebra.tidy import tidy
from ...notation.build import ONE, add, multiply
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Node, Sum
from ..asking import constant_and_rest, integral, integrand
from ..base import Example, Step, Technique
from ..forms import standard


def propose(question: Question) -> Iterable[Step]:
    body, x = integrand(question), question.variable
    if isinstance(body, Sum):
        yield Step("sum", add(*_terms(body, x)), say("One integral for each term, with its constant in front."))
        return
    constant, rest = constant_and_rest(question)
    if constant != ONE and standard(rest, x) is None:
        yield Step("sum", integral(rest, x, constant), say("A constant factor stands in front of the integral."), extra_cost=-0.3)


def _terms(body: Sum, variable: str) -> list[Node]:
    """One integral for each term, its constant in front."""
    found = []
    for term in body.terms:
        constant, rest = split_constant(term, variable)
        found.append(tidy(multiply(constant, integral(rest, variable))))
    return found


TECHNIQUE = Technique(
    id="sum",
    title="Term by term",
    cost=0.5,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int (x^3 + \cos x) \, dx"),
        Example(r"\int 4x\,e^x \, dx"),
        Example(r"\int x\,e^x \, dx", applies=False),
        Example(r"\int \sin x \, dx", applies=False),
    ),
    explains="The integral of a sum is the sum of the integrals, and constant factors stand in front.",
)
