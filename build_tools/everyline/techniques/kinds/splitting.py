"""Split a fraction: every term above over the whole below."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.expand import multiply_out
from ...algebra.poly import coefficients, factors
from ...algebra.terms import term_of
from ...algebra.tidy import join, tidy
from ...notation.build import ONE, add
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Node, Sum
from ..asking import constant_and_rest, integral
from ..base import Example, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    x = question.variable
    above, below = term_of(rest).halves
    if not below.powers:
        return
    top = multiply_out(join(above), x)
    if not isinstance(top, Sum):
        return
    over: Node = join(below)
    if isinstance(over, Sum) and (_cancels(top, over, x) or _has_middle(over, x)):
        return
    split = tidy(add(*(join(term_of(t).over(below)) for t in top.terms)))
    if split == rest or not isinstance(split, Sum):
        return
    if sum(isinstance(b, Sum) for b, _ in below.powers) > 1:
        return
    simple = all(not isinstance(b, Sum) for b, _ in below.powers)
    reason = say("Split the fraction: divide every term above by {below}.", below=over)
    yield Step("splitting", integral(split, x, constant if constant != ONE else None), reason, extra_cost=0.0 if simple else 1.0)


def _has_middle(bottom: Node, variable: str) -> bool:
    """A quadratic with a linear term: its derivative is wanted above, not single terms."""
    values = coefficients(bottom, variable)
    return values is not None and len(values) == 3 and values[1] != 0


def _cancels(top: Node, bottom: Node, variable: str) -> bool:
    """Whether the two share a polynomial factor: then cancel or divide, do not split."""
    a, b = coefficients(top, variable), coefficients(bottom, variable)
    if a is None or b is None:
        return False
    return bool({f for f, _ in factors(a)[1]} & {f for f, _ in factors(b)[1]}) or len(a) >= len(b)


TECHNIQUE = Technique(
    id="splitting",
    title="Splitting the fraction",
    cost=1.7,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{x^3 - 4}{x^2} \, dx"),
        Example(r"\int \frac{x + 5}{\sqrt{x}} \, dx"),
        Example(r"\int \frac{2x + 7}{x^2 + 1} \, dx"),
        Example(r"\int \frac{x}{x + 1} \, dx", applies=False),
        Example(r"\int \frac{x^2}{x + 1} \, dx", applies=False),
    ),
    explains="A sum over one denominator is the sum of the single fractions.",
)
