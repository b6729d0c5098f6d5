"""∫ x cos(x²) dx = sin(x²): a constant factor got lost on the way."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction

from ...algebra.derivative import NotSupported, derivative
from ...notation.build import ONE
from ...notation.question import Question
from ...notation.tree import Node
from ..answers import Term, coefficient, insides, scale, slope, term, terms, with_one_term
from ..base import Example, Slip
from ..linear import correction


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable

    def bare(tree: Node) -> Iterator[Node]:
        ratio, constant, core = coefficient(tree, x)
        if abs(ratio) != 1 or constant != ONE:
            yield term(ratio / abs(ratio), ONE, core)
            yield core

    yield from with_one_term(right, x, bare)
    for lost in {abs(coefficient(part.tree, x)[0]) for part in terms(right, x)} - {1}:
        yield from with_one_term(right, x, _divided(lost, x))
    yield from with_one_term(right, x, lambda tree: (scale(tree, factor, x) for factor in _carried(tree, x)))


def _carried(tree: Node, x: str) -> Iterator[Fraction]:
    """The numbers that du = k … dx brings with it: those in front of the derivatives of insides that are not linear."""
    for inner in insides(tree, x):
        if slope(inner, x) is None:
            try:
                number = abs(coefficient(derivative(inner, x), x)[0])
            except NotSupported:
                continue
            if number not in (0, 1):
                yield number


def _divided(by: Fraction, x: str) -> Callable[[Node], Iterable[Node]]:
    return lambda tree: (scale(tree, 1 / by, x),)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    """The constant of du = k dx divided out; else the linear correction, when what it puts in was not there at all."""
    x = question.variable
    yield from with_one_term(claimed, x, lambda tree: (scale(tree, 1 / factor, x) for factor in _carried(tree, x)))
    found = correction(question, claimed)
    if found is None:
        return
    bare = all(abs(coefficient(found.terms[place].tree, x)[0]) == 1 for place in found.wrong)
    whole = len(found.wrong) == len(found.terms) and len(set(found.factors)) == 1
    if (bare or (whole and _has_bare(found.terms, x))) and not any(abs(coefficient(found.factors[p], x)[0]) == 1 for p in found.wrong):
        yield found.repaired


def _has_bare(parts: tuple[Term, ...], x: str) -> bool:
    """Whether no factor stands in front of the whole answer: some term has none."""
    return len(parts) > 1 and any(abs(coefficient(part.tree, x)[0]) == 1 for part in parts)


SLIP = Slip(
    id="constant-lost",
    title="A constant factor was lost",
    explains="A constant factor is missing at {fault}: the k of du = k dx, or the ln a of a power aˣ, has to be carried along.",
    hint="Differentiate your answer. Which constant comes out that the question does not have?",
    kinds=("indefinite",),
    rank=5,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int \frac{x^2}{\sqrt{x^3 + 1}} \, dx", r"\frac{2}{3} \sqrt{x^3 + 1} + C", r"2\sqrt{x^3 + 1} + C"),
        Example(r"\int x^2 \cos(x^3) \, dx", r"\frac{1}{3} \sin(x^3) + C", r"\sin(x^3) + C"),
        Example(
            r"\int \frac{1}{x^2 - 25} \, dx",
            r"\frac{1}{10} \ln\left|\frac{x - 5}{x + 5}\right| + C",
            r"\ln\left|\frac{x - 5}{x + 5}\right| + C",
        ),
    ),
)
