"""A numerator written with the derivative of the denominator: over a quadratic, or over a sum of a sine and a cosine."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.poly import linear
from ...algebra.terms import term_of
from ...algebra.tidy import join, tidy
from ...notation.build import ONE, ZERO, add, divide, multiply, number, subtract, summands
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Call, Name, Node, Sum
from ..asking import constant_and_rest, differentiate, integral
from ..base import Example, Shown, Step, Technique
from ..quadratics import quadratic


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    x = question.variable
    above, below = term_of(rest).halves
    if len(below.powers) != 1:
        return
    ((base, exponent),) = below.powers
    if exponent == 1:
        yield from _waves(question, constant, join(above), base)
    if len(above.powers) != 1 or above.powers[0][1] != 1 or not isinstance(base, Sum):
        return
    top = above.powers[0][0]
    line, square = linear(top, x), quadratic(base, x)
    if line is None or square is None:
        return
    slope = differentiate(base, x)
    front = tidy(divide(line[0], multiply(number(2), square[0])))
    left = tidy(subtract(line[1], multiply(front, square[1])))
    if left == ZERO or (square[1] == ZERO and isinstance(top, Name)):
        return
    fraction = join(below)
    outer = constant if constant != ONE else None
    if square[1] == ZERO:  # the derivative is a multiple of the variable: nothing to prepare
        plain = add(tidy(divide(subtract(top, line[1]), fraction)), tidy(divide(line[1], fraction)))
        yield Step(
            "numerator-split",
            integral(plain, x, outer),
            say("Split the fraction: divide every term above by {below}.", below=fraction),
            extra_cost=-0.5,
        )
        return
    new = add(multiply(front, divide(slope, fraction)), tidy(divide(left, fraction)))
    shown = Shown("equal", top, add(multiply(front, slope), left))
    reason = say("Write the numerator with the derivative of {base}: {slope}.", base=base, slope=slope)
    yield Step("numerator-split", integral(new, x, outer), reason, detail=(shown,))


def _waves(question: Question, constant: Node, top: Node, bottom: Node) -> Iterable[Step]:
    """a sin A + b cos A over c sin A + d cos A: a multiple of what stands below and one of its derivative."""
    x = question.variable
    upper, lower = _sine_and_cosine(top), _sine_and_cosine(bottom)
    if upper is None or lower is None or upper[0] != lower[0]:
        return
    (angle, a, b), (_, c, d) = upper, lower
    line = linear(angle, x)
    share, rest = (a * c + b * d) / (c * c + d * d), (b * c - a * d) / (c * c + d * d)
    if line is None or not c or not d or not share or not rest:
        return
    slope = differentiate(bottom, x)
    front = tidy(divide(number(rest), line[0]))
    new = add(number(share), tidy(multiply(front, divide(slope, bottom))))
    shown = Shown("equal", top, add(tidy(multiply(number(share), bottom)), tidy(multiply(front, slope))))
    reason = say("Write the numerator with the denominator and its derivative, {slope}.", slope=slope)
    yield Step("numerator-split", integral(new, x, constant if constant != ONE else None), reason, detail=(shown,))


def _sine_and_cosine(node: Node) -> tuple[Node, Fraction, Fraction] | None:
    """(A, a, b) of a sin A + b cos A with rational a and b, one of which may be 0."""
    found: dict[Node, Fraction] = {}
    for t in summands(node):
        term = term_of(t)
        if len(term.powers) != 1 or term.powers[0][1] != 1:
            return None
        found[term.powers[0][0]] = term.coefficient
    angles = {b.argument for b in found if isinstance(b, Call) and b.function in ("sin", "cos")}
    if len(angles) != 1 or not all(isinstance(b, Call) and b.function in ("sin", "cos") for b in found):
        return None
    (angle,) = angles
    return angle, found.get(Call("sin", angle), Fraction(0)), found.get(Call("cos", angle), Fraction(0))


TECHNIQUE = Technique(
    id="numerator-split",
    title="Derivative in the numerator",
    cost=2.5,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{x + 5}{x^2 + 4x + 13} \, dx"),
        Example(r"\int \frac{2x - 1}{\sqrt{9 + 2x - x^2}} \, dx"),
        Example(r"\int \frac{\sin x}{\sin x + \cos x} \, dx"),
        Example(r"\int \frac{2x + 4}{x^2 + 4x + 13} \, dx", applies=False),
        Example(r"\int \frac{x}{x + 1} \, dx", applies=False),
    ),
    explains="The part with the derivative of the denominator gives a logarithm or a root, the constant part a standard form.",
)
