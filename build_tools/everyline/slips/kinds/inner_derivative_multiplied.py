"""∫ cos 3x dx = 3 sin 3x: multiplied by the inner derivative, as when differentiating."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...notation.build import ONE, divide, power
from ...notation.question import Question
from ...notation.tree import Name, Node
from ..answers import coefficient, insides, scale, slopes, term, with_one_term
from ..base import Example, Slip


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable

    def multiplied(tree: Node) -> Iterable[Node]:
        for slope in slopes(tree, x):
            wrong = scale(tree, power(slope, 2), x)
            if abs(coefficient(wrong, x)[0]) != 1:  # a bare answer shows no factor that was multiplied by
                yield wrong
        ratio, constant, core = coefficient(tree, x)
        if abs(ratio.numerator) == 1 and ratio.denominator > 1 and any(inner != Name(x) for inner in insides(core, x)):
            yield term(1 / ratio, constant, core)

    return with_one_term(right, x, multiplied)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    x = question.variable

    def divided(tree: Node) -> Iterable[Node]:
        ratio, constant, core = coefficient(tree, x)
        if abs(ratio) != 1 or constant != ONE:
            yield from (scale(tree, divide(ONE, power(slope, 2)), x) for slope in slopes(tree, x))
        if ratio.denominator == 1 and abs(ratio) > 1:
            yield term(Fraction(1) / ratio, constant, core)

    return with_one_term(claimed, x, divided)


SLIP = Slip(
    id="inner-derivative-multiplied",
    title="Multiplied by the inner derivative instead of divided by it",
    explains="In {fault} the answer is multiplied by the inner derivative; integrating undoes that factor, so it has to be divided out.",
    hint="Differentiating multiplies by the inner derivative. What does going back do?",
    kinds=("indefinite",),
    rank=2,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int e^{5x} \, dx", r"\frac{1}{5} e^{5x} + C", r"5 e^{5x} + C"),
        Example(r"\int \sin(4x + 1) \, dx", r"-\frac{1}{4} \cos(4x + 1) + C", r"-4 \cos(4x + 1) + C"),
        Example(r"\int \frac{x}{x^2 + 5} \, dx", r"\frac{1}{2} \ln(x^2 + 5) + C", r"2 \ln(x^2 + 5) + C"),
    ),
)
