"""∫ x⁴ dx = x⁵: the power was raised but not divided by."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.question import Question
from ...notation.tree import Node, Root
from ..answers import coefficient, scale, term, with_one_term
from ..base import Example, Slip
from ..integrals import as_power
from ..powers import exponents


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable

    def undivided(tree: Node) -> Iterable[Node]:
        yield from (scale(tree, exponent, x) for exponent in exponents(tree, x))
        ratio, constant, core = coefficient(tree, x)
        if isinstance(core, Root) and as_power(core)[1] != ratio:
            yield term(ratio / abs(ratio), constant, core)

    return with_one_term(right, x, undivided)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    x = question.variable
    return with_one_term(claimed, x, lambda tree: (scale(tree, 1 / exponent, x) for exponent in exponents(tree, x)))


SLIP = Slip(
    id="power-not-divided",
    title="The power was raised but not divided by",
    explains="Differentiating {fault} brings the exponent down as a factor, and nothing in the answer cancels it.",
    hint="Differentiate your power: which factor comes down in front?",
    kinds=("indefinite",),
    rank=2,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int x^6 \, dx", r"\frac{x^7}{7} + C", r"x^7 + C"),
        Example(r"\int \tan^3 x \sec^2 x \, dx", r"\frac{\tan^4 x}{4} + C", r"\tan^4 x + C"),
        Example(r"\int \frac{1}{x^3} + 8 \, dx", r"-\frac{1}{2x^2} + 8x + C", r"\frac{1}{x^2} + 8x + C"),
        Example(r"\int \frac{x}{\sqrt{x^2 + 8}} \, dx", r"\sqrt{x^2 + 8} + C", r"\frac{1}{2}\sqrt{x^2 + 8} + C"),
    ),
)
