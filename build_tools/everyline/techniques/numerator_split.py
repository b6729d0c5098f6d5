"""A linear numerator over a quadratic: a multiple of the quadratic's derivative, and a constant."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ..algebra.poly import linear
from ..algebra.terms import as_node, term_of
from ..algebra.tidy import tidy
from ..notation.build import ONE, ZERO, add, divide, multiply, number, power, subtract
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Name, Sum
from .asking import constant_and_rest, differentiate, integral
from .base import Example, Shown, Step, Technique
from .quadratics import quadratic


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    x = question.variable
    powers = term_of(rest).powers
    below = [(b, e) for b, e in powers if isinstance(e, Fraction) and e < 0]
    above = [(b, e) for b, e in powers if not (isinstance(e, Fraction) and e < 0)]
    if len(below) != 1 or len(above) != 1 or above[0][1] != 1 or not isinstance(below[0][0], Sum):
        return
    top, (base, exponent) = above[0][0], below[0]
    line, square = linear(top, x), quadratic(base, x)
    if line is None or square is None:
        return
    slope = differentiate(base, x)
    front = tidy(divide(line[0], multiply(number(2), square[0])))
    left = tidy(subtract(line[1], multiply(front, square[1])))
    if left == ZERO or (square[1] == ZERO and isinstance(top, Name)):
        return
    fraction = power(base, as_node(-exponent if isinstance(exponent, Fraction) else exponent))
    new = add(multiply(front, divide(slope, fraction)), tidy(divide(left, fraction)))
    shown = Shown("equal", top, add(multiply(front, slope), left))
    reason = say("Write the numerator with the derivative of {base}: {slope}.", base=base, slope=slope)
    yield Step("numerator-split", integral(new, x, constant if constant != ONE else None), reason, detail=(shown,))


TECHNIQUE = Technique(
    id="numerator-split",
    title="Derivative in the numerator",
    cost=2.5,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{x + 5}{x^2 + 4x + 13} \, dx"),
        Example(r"\int \frac{2x - 1}{\sqrt{9 + 2x - x^2}} \, dx"),
        Example(r"\int \frac{2x + 4}{x^2 + 4x + 13} \, dx", applies=False),
        Example(r"\int \frac{x}{x + 1} \, dx", applies=False),
    ),
    explains="The part with the derivative of the denominator gives a logarithm or a root, the constant part a standard form.",
)
