"""∫ x⁴ dx = x⁴/5: the power was left as it was."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from ...notation.build import number, power, rational, walk
from ...notation.question import Question
from ...notation.tree import Call, Name, Node, Power
from ..answers import rewrites, scale, with_one_term
from ..base import Example, Slip


def _lowered(node: Node) -> Iterator[Node]:
    if isinstance(node, Power):
        exponent = rational(node.exponent)
        if exponent is not None and exponent not in (0, 1):
            yield power(node.base, number(exponent - 1))


def _raised(node: Node) -> Iterator[Node]:
    if isinstance(node, Power):
        exponent = rational(node.exponent)
        if exponent is not None and exponent != -1:
            yield power(node.base, number(exponent + 1))
    elif isinstance(node, Name | Call):
        yield power(node, 2)


def _exponents(term: Node, step: int) -> Iterator[Fraction]:
    """What the divisor is multiplied by when it moves with the exponent."""
    for part in walk(term):
        exponent = rational(part.exponent) if isinstance(part, Power) else Fraction(1) if isinstance(part, Name | Call) else None
        if exponent is not None and exponent not in (0, -step):
            yield exponent / (exponent + step)


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    return _moved(question, right, -1)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    return _moved(question, claimed, 1)


def _moved(question: Question, answer: Node, step: int) -> Iterator[Node]:
    x = question.variable
    move = _raised if step > 0 else _lowered

    def with_divisor(term: Node) -> Iterator[Node]:
        for changed in rewrites(term, move):
            yield from (scale(changed, ratio, x) for ratio in dict.fromkeys(_exponents(term, step)))

    yield from with_one_term(answer, x, lambda term: rewrites(term, move))
    yield from with_one_term(answer, x, with_divisor)


SLIP = Slip(
    id="power-not-raised",
    title="The power was not raised",
    explains="In {fault} a power is one too low: the power rule of integration raises the exponent by one.",
    hint="Which power has this one as its derivative?",
    kinds=("indefinite",),
    rank=3,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int x^4 \, dx", r"\frac{x^5}{5} + C", r"\frac{x^4}{5} + C"),
        Example(r"\int x^4 + 1 \, dx", r"\frac{x^5}{5} + x + C", r"\frac{x^4}{4} + x + C"),
        Example(r"\int \cos^5 x \sin x \, dx", r"-\frac{\cos^6 x}{6} + C", r"-\frac{\cos^5 x}{6} + C"),
    ),
)
