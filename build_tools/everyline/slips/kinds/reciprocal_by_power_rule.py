"""∫ 1/x dx by the power rule, which does not cover the exponent -1."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...notation.build import ONE, add, call, divide, multiply, names, negate, number, power, walk, within_bars
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Node, Quotient
from ..answers import rewrites, scale, with_one_term
from ..base import Example, Slip
from ..integrals import as_power


def _wrong(node: Node) -> Iterator[Node]:
    """What ln u is mistaken for: the exponent moved the wrong way, with or without its divisor."""
    if isinstance(node, Call) and node.function == "ln":
        inside = within_bars(node.argument)
        squared = divide(ONE, power(inside, 2))
        yield from (negate(divide(squared, number(2))), negate(squared), squared, negate(divide(ONE, inside)))


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    return with_one_term(right, question.variable, lambda term: rewrites(term, _wrong))


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    x = question.variable

    def logarithm(term: Node) -> Iterator[Node]:
        if isinstance(term, Quotient) and x in names(term.bottom):
            base = as_power(term.bottom)[0]
            for factor in (1, -1, -2):
                yield scale(multiply(term.top, call("ln", Absolute(base))), factor, x)

    yield from with_one_term(claimed, x, lambda term: rewrites(term, logarithm))
    for part in _reciprocals(question.body, x):
        yield add(claimed, call("ln", Absolute(part)))


def _reciprocals(node: Node, x: str) -> Iterator[Node]:
    for part in walk(node):
        if isinstance(part, Quotient) and x in names(part.bottom):
            yield part.bottom


SLIP = Slip(
    id="reciprocal-by-power-rule",
    title="The power rule was used on a reciprocal",
    explains="The power rule does not cover the exponent −1: it would divide by zero. A reciprocal comes from a logarithm.",
    hint="Which function has the derivative 1/x?",
    kinds=("indefinite",),
    rank=1,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int \frac{4}{x} \, dx", r"4\ln|x| + C", r"-\frac{2}{x^2} + C"),
        Example(r"\int x^3 + \frac{1}{x - 2} \, dx", r"\frac{x^4}{4} + \ln|x - 2| + C", r"\frac{x^4}{4} - \frac{1}{(x - 2)^2} + C"),
    ),
)
