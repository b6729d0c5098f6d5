"""Reflection: where f(x) and f(a + b - x) add up to something simpler, the integral from a to b is half of the integral of that."""

from __future__ import annotations

from collections.abc import Iterator
from math import exp

from ...algebra.expand import split_constant
from ...algebra.numbers import number_of
from ...algebra.poly import coefficients
from ...algebra.terms import term_of
from ...algebra.tidy import join, tidy
from ...notation.build import TWO, ZERO, add, call, contains, divide, infinite, multiply, names, negate, number, substitute, subtract
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Call, Integral, Name, Node, Power
from ..base import Example, Shown, Step, Technique

_NEAR = 1e-12
#: No logarithm of a greater number is looked for.
_LARGE = 5.0


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None or infinite(node.lower) or infinite(node.upper):
        return
    x, body = node.variable, node.integrand
    if coefficients(body, x) is not None or x not in names(tidy(body)):
        return  # a polynomial needs no trick
    both = tidy(add(node.lower, node.upper))
    other = subtract(both, Name(x)) if both != ZERO else negate(Name(x))
    total = add(body, substitute(body, {x: tidy(other)}))
    constant = _constant(total, x, node.lower, node.upper)
    if constant is not None and both != ZERO:
        value = tidy(divide(multiply(constant, subtract(node.upper, node.lower)), TWO))
        reason = say(
            "Reflected in the middle, {x} becomes {other}; the two integrands add up to {sum}.", x=Name(x), other=other, sum=constant
        )
        yield _step(total, constant, value, reason, say("The integrand and its reflection add up to a constant."))
    elif constant is None:
        for simple in _simpler(body, x, both):
            if _alike(total, simple, x, node.lower, node.upper):
                half, rest = split_constant(divide(simple, TWO), x)
                reason = say(
                    "Reflected in the middle, {x} becomes {other}: the integral is half of that of the sum.", x=Name(x), other=other
                )
                shown = say("The integrand and its reflection add up to something simpler.")
                yield _step(total, simple, multiply(half, Integral(rest, x, node.lower, node.upper)), reason, shown)
                return


def _step(total: Node, simple: Node, result: Node, reason: Message, shown: Message) -> Step:
    return Step("reflection", result, reason, before=(Shown("equal", total, simple, shown),))


def _constant(total: Node, x: str, low: Node, high: Node) -> Node | None:
    """What the sum is at a third and at two fifths of the way, where that is the same: its value in the middle, or a logarithm."""
    plain = tidy(total)
    if x not in names(plain):
        return plain
    values = [_size(total, x, _between(low, high, share)) for share in (3, 5)]
    if any(v is None for v in values) or abs(values[0] - values[1]) > _NEAR * (1 + abs(values[0])):  # type: ignore[operator, arg-type]
        return None
    power = exp(values[0]) if values[0] is not None and 0 < abs(values[0]) < _LARGE else 0.0
    if contains(total, Call) and abs(power - round(power)) < _NEAR and round(power) > 1:
        return call("ln", number(round(power)))
    try:
        return tidy(substitute(total, {x: _between(low, high, 2)}))
    except ZeroDivisionError:
        return None


def _simpler(body: Node, x: str, both: Node) -> Iterator[Node]:
    """What the sum may be: the numerator over 1 + e^x, or the rest beside a factor x a number of times."""
    term = term_of(tidy(body))
    above = join(term.halves[0])
    if contains(body, Power) and above != tidy(body):
        yield above
    if term.exponent(Name(x)) == 1 and both != ZERO:
        yield tidy(multiply(both, join(term.without(Name(x)))))


def _alike(total: Node, simple: Node, x: str, low: Node, high: Node) -> bool:
    """Whether both are the same at some places."""
    sizes = [(_size(total, x, place), _size(simple, x, place)) for place in (_between(low, high, share) for share in (3, 5, 7))]
    return all(a is not None and b is not None and abs(a - b) < _NEAR * (1 + abs(a)) for a, b in sizes)


def _between(low: Node, high: Node, share: int) -> Node:
    return tidy(add(low, divide(subtract(high, low), number(share))))


def _size(node: Node, x: str, place: Node) -> float | None:
    ball = number_of(substitute(node, {x: place}))
    return None if ball is None or not ball.is_finite() else float(ball)


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
