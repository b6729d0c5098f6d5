"""An arithmetic slip in one coefficient."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from ...notation.question import Question
from ...notation.tree import Node
from ..answers import coefficient, term, with_one_term
from ..base import Example, Slip
from ..linear import correction


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    """The usual ones: numerator or denominator one more or less, the coefficient doubled, halved or turned over."""
    x = question.variable

    def slipped(tree: Node) -> Iterator[Node]:
        ratio, constant, core = coefficient(tree, x)
        top, bottom = ratio.numerator, ratio.denominator
        pairs = (
            (top + 1, bottom),
            (top - 1, bottom),
            (top, bottom + 1),
            (top, bottom - 1),
            (2 * top, bottom),
            (top, 2 * bottom),
            (bottom, top),
        )
        for above, below in pairs:
            if above and below and Fraction(above, below) != ratio:
                yield term(Fraction(above, below), constant, core)

    return with_one_term(right, x, slipped)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    found = correction(question, claimed)
    if found is not None and (len(found.wrong) == 1 or len(set(found.factors)) == 1):
        yield found.repaired


SLIP = Slip(
    id="coefficient",
    title="A slip in one coefficient",
    explains="The coefficient of {fault} is wrong; the rest is right.",
    hint="Differentiate that term and compare its number with the question's.",
    kinds=("indefinite", "derivative"),
    rank=7,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int 10x^4 + 3 \, dx", r"2x^5 + 3x + C", r"3x^5 + 3x + C"),
        Example(r"\frac{d}{dx} (4x^3 + \sin x)", r"12x^2 + \cos x", r"13x^2 + \cos x"),
    ),
)
