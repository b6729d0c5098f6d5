"""Partial fractions: a proper fraction over a denominator that factors."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import lcm

from ...algebra.poly import Coefficients, factors, partial_fractions, polynomial, rational_function
from ...algebra.tidy import tidy
from ...notation.build import ONE, add, divide, multiply, number, power, rational
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Name, Negative, Node, Sum
from ..asking import constant_and_rest, integral
from ..base import Example, Shown, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    whole_number = rational(constant)
    if whole_number is not None and whole_number != 1:
        constant, rest = ONE, tidy(multiply(constant, rest))  # 10/(x(x + 5)) is 2/x - 2/(x + 5): the numbers come out small
    found = rational_function(rest, question.variable)
    if found is None or not found[1]:
        return
    top, written = found
    scale = number(1)
    merged: dict[Coefficients, int] = {}
    for values, times in written:
        content, parts = factors(values)
        scale = tidy(multiply(scale, number(content**times)))
        for factor, n in parts:
            merged[factor] = merged.get(factor, 0) + n * times
    degree = sum((len(f) - 1) * n for f, n in merged.items())
    if len(top) - 1 >= degree or (len(merged) == 1 and (next(iter(merged.values())) == 1 or len(top) == 1)):
        return
    x = Name(question.variable)
    pieces = partial_fractions(top, list(merged.items()))
    if len(pieces) < 2:
        return
    terms = [_piece(a, tidy(multiply(scale, power(polynomial(f, x), n))), x) for a, f, n in pieces]
    whole = add(*sorted(terms, key=_begins_with_minus))
    below = multiply(scale, *(power(polynomial(f, x), n) for f, n in merged.items()))
    detail = (
        Shown("equal", tidy(rest), divide(polynomial(top, x), below), say("Factor the denominator.")),
        Shown("equal", polynomial(top, x), _numerators(pieces, merged, x), _found(merged)),
    )
    reason = say("Split into partial fractions.")
    result = integral(tidy(whole), question.variable, constant if constant != ONE else None)
    yield Step("partial-fractions", result, reason, detail=detail, extra_cost=0.3 * len(pieces))


def _begins_with_minus(term: Node) -> bool:
    return isinstance(term, Negative)


def _numerators(pieces: Sequence[tuple[Coefficients, Coefficients, int]], merged: Mapping[Coefficients, int], x: Name) -> Node:
    """What stands above when the fractions are put together again: each number times the factors that its fraction lacks."""
    terms = []
    for top, factor, n in pieces:
        lacking = [power(polynomial(f, x), m - n if f == factor else m) for f, m in merged.items() if f != factor or m > n]
        terms.append(multiply(polynomial(top, x), *lacking))
    return Sum(tuple(sorted(terms, key=_begins_with_minus)))  # a bracket stays a bracket: (x - 5) + 2(x + 3)


def _found(merged: Mapping[Coefficients, int]) -> Message:
    if all(len(factor) == 2 and times == 1 for factor, times in merged.items()):
        return say("Multiply by the whole denominator. Its zeros, put in one by one, give the numbers.")
    return say("Multiply by the whole denominator. Its zeros give some of the numbers, comparing coefficients the others.")


def _piece(top: Coefficients, bottom: Node, x: Node) -> Node:
    """One fraction, its numbers whole."""
    below = lcm(*(c.denominator for c in top))
    return tidy(divide(polynomial(tuple(c * below for c in top), x), multiply(number(below), bottom)))


TECHNIQUE = Technique(
    id="partial-fractions",
    title="Partial fractions",
    cost=4.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{5}{(x - 2)(x + 3)} \, dx"),
        Example(r"\int \frac{2x + 1}{x^2(x + 4)} \, dx"),
        Example(r"\int \frac{x + 7}{x(x^2 + 1)} \, dx"),
        Example(r"\int \frac{1}{x^2 + 1} \, dx", applies=False),
        Example(r"\int \frac{x^3}{x^2 - 1} \, dx", applies=False),
    ),
    after=("table",),
    explains="A proper fraction whose denominator factors is a sum of simpler fractions.",
)
