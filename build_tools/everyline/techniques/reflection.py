"""Reflection: where f(x) and f(a + b - x) add up to a constant, the integral from a to b is half of that constant times b - a."""

from __future__ import annotations

from collections.abc import Iterator

from ..algebra.numbers import infinite, number_of
from ..algebra.poly import coefficients
from ..algebra.tidy import tidy
from ..notation.build import TWO, ZERO, add, divide, multiply, names, number, substitute, subtract
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Integral, Name, Node
from .base import Example, Shown, Step, Technique

_NEAR = 1e-12


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None or infinite(node.lower) or infinite(node.upper):
        return
    x, body = node.variable, node.integrand
    if coefficients(body, x) is not None:
        return  # a polynomial needs no trick
    both = tidy(add(node.lower, node.upper))
    mirrored = substitute(body, {x: tidy(subtract(both, Name(x)))})
    total = add(body, mirrored)
    constant = _constant(total, x, node.lower, node.upper)
    if both == ZERO or constant is None or x not in names(tidy(body)):
        return
    value = tidy(divide(multiply(constant, subtract(node.upper, node.lower)), TWO))
    reason = say("Reflected in the middle, {x} becomes {other}; the two integrands add up to {sum}.", x=Name(x),
                 other=subtract(both, Name(x)), sum=constant)  # fmt: skip
    shown = Shown("equal", total, constant, say("The integrand and its reflection add up to a constant."))
    yield Step("reflection", value, reason, before=(shown,))


def _constant(total: Node, x: str, low: Node, high: Node) -> Node | None:
    """What the sum is at a third and at two fifths of the way, where that is the same: its value in the middle."""
    plain = tidy(total)
    if x not in names(plain):
        return plain
    values = []
    for share in (3, 5):
        place = tidy(add(low, divide(subtract(high, low), number(share))))
        ball = number_of(substitute(total, {x: place}))
        if ball is None or not ball.is_finite():
            return None
        values.append(float(ball))
    if abs(values[0] - values[1]) > _NEAR * (1 + abs(values[0])):
        return None
    try:
        return tidy(substitute(total, {x: tidy(divide(add(low, high), TWO))}))
    except ZeroDivisionError:
        return None


TECHNIQUE = Technique(
    id="reflection",
    title="Reflection in the middle",
    cost=7.0,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_0^1 \frac{x^2}{x^2 + (1-x)^2} \, dx"),
        Example(r"\int_0^{\pi/2} \frac{\sin x}{\sin x + \cos x} \, dx"),
        Example(r"\int_0^1 x^2 \, dx", applies=False),
        Example(r"\int_0^\infty \frac{1}{1 + x^2} \, dx", applies=False),
    ),
    explains="The integral does not change when x is replaced by a + b - x; the two together may be plain although one alone is not.",
)
