"""∫ tan²x dx = tan³x/3: the power rule for a function, though its derivative is not beside it."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...notation.build import names, walk
from ...notation.question import Question
from ...notation.tree import Name, Node, Power, Quotient, Root
from ..answers import scale
from ..base import Example, Slip, no_repairs
from ..integrals import as_power, raised
from ..linear import correction


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    """The power rule for every power of a function in the question, also with a constant that was meant to put it right."""
    x = question.variable
    for part in walk(question.body):
        if not isinstance(part, Power | Root | Quotient):
            continue
        base, exponent = as_power(part)
        if exponent is None or exponent in (1, -1) or base == Name(x) or x not in names(base):
            continue
        wrong = raised(base, exponent)
        if correction(question, wrong) is not None:
            continue  # the inner derivative is there, but for a constant: that is another slip
        yield wrong
        factors = (Fraction(-1), exponent + 1, *(Fraction(sign, part) for part in (2, 4) for sign in (1, -1)))
        yield from (scale(wrong, factor, x) for factor in factors)


SLIP = Slip(
    id="power-rule-without-inner",
    title="The power rule was used on a function whose derivative is not there",
    explains="The power rule was used on the power of a function. It needs the derivative of the inside as a factor, and that is missing.",
    hint="Differentiate your answer with the chain rule: which factor does the question not have?",
    kinds=("indefinite",),
    rank=2,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\int \cot^2 x \, dx", r"-\cot x - x + C", r"\frac{\cot^3 x}{3} + C", repairable=False),
        Example(r"\int (x^2 + 5)^2 \, dx", r"\frac{x^5}{5} + \frac{10x^3}{3} + 25x + C", r"\frac{(x^2 + 5)^3}{3} + C", repairable=False),
    ),
)
