"""Multiply out first."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.expand import multiply_out
from ...algebra.poly import coefficients
from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Quotient, Sum
from ..asking import constant_and_rest, integral, is_rational
from ..base import Example, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    x = question.variable
    if isinstance(rest, Sum) and coefficients(rest, x) is None and is_rational(rest, x):
        return  # a sum of fractions is done term by term
    out = multiply_out(rest, x)
    if not isinstance(out, Sum) or out == rest:
        return
    if any(isinstance(e, Fraction) and e < 0 for _, e in term_of(rest).powers):
        return  # a fraction is split, not multiplied out
    terms = len(out.terms)
    highest = max((int(e) for b, e in term_of(rest).powers if isinstance(b, Sum) and isinstance(e, Fraction) and e > 0), default=1)
    whole = integral(tidy(out), x, constant)
    reason = say("Divide every term above by what stands below.") if isinstance(question.body, Quotient) else say("Multiply out.")
    yield Step("expansion", whole, reason, extra_cost=0.25 * max(0, terms - 3) + 0.9 * max(0, highest - 2))


TECHNIQUE = Technique(
    id="expansion",
    title="Expansion",
    cost=1.7,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int (x + 4)(2x - 1) \, dx"),
        Example(r"\int x(x^2 - 3)^2 \, dx"),
        Example(r"\int \sqrt{x}(x + 2) \, dx"),
        Example(r"\int (e^x + 1)^2 \, dx"),
        Example(r"\int x^2 + 3 \, dx", applies=False),
        Example(r"\int \frac{1}{x + 1} \, dx", applies=False),
    ),
    explains="A product or a small power of sums is multiplied out; then every term is easy.",
)
