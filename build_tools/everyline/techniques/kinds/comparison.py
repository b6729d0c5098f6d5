"""Comparison: an integral diverges with a simpler one whose integrand behaves in the same way where it matters."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ...algebra.limits import DEEPEST, tends
from ...algebra.numbers import number_of, sign
from ...algebra.tidy import tidy
from ...algebra.zeros import zeros_between
from ...notation.build import ONE, call, divide, infinite, multiply, names, number, power, subtract, walk
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Diverges, Integral, Limit, Name, Node, Quotient
from ..base import Example, Shown, Step, Technique
from ..brackets import plain_at, turned

#: Exponents p of 1/x^p that diverge far out, and of 1/(x - c)^p that diverge at c, the ones met most first.
_FAR = (Fraction(1), Fraction(1, 2), Fraction(2, 3), Fraction(1, 3), Fraction(0))
_NEAR = (Fraction(1), Fraction(2), Fraction(3, 2), Fraction(3))
#: How deep a quotient is looked into for its limit: one that takes l'Hôpital's rule many times is compared with nothing simple.
PLAIN = DEEPEST - 2


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None or turned(node.lower, node.upper):
        return
    for point, side in _places(node, node.lower, node.upper):
        step = _at(node, point, side)
        if step is not None:
            yield step
            return


def _places(node: Integral, low: Node, high: Node) -> Iterator[tuple[Node, int]]:
    """Where the integral may diverge: the ends, and zeros of denominators between them."""
    yield high, -1
    yield low, 1
    for part in dict.fromkeys(walk(node.integrand)):
        if isinstance(part, Quotient):
            for zero in zeros_between(part.bottom, node.variable, low, high) or []:
                yield zero, 1
                yield zero, -1


def _at(node: Integral, point: Node, side: int) -> Step | None:
    x = node.variable
    far = infinite(point)
    if not far and plain_at(node.integrand, x, point):
        return None
    larger: Step | None = None
    for other in _others(x, point, side):
        ratio = divide(node.integrand, other)
        if x not in names(tidy(ratio)):
            return None  # it is one of the simple functions itself
        value = tends(tidy(ratio), x, point, side, PLAIN)
        if value is None or not sign(value) or (not infinite(value) and number_of(value) is None):
            continue
        step = _step(node, point, side, other, ratio, value)
        if not infinite(value):
            return step
        larger = larger or step
    return larger


def _others(x: str, point: Node, side: int) -> Iterator[Node]:
    """Simple functions whose integral up to the point diverges."""
    if infinite(point):
        at = Name(x) if sign(point) > 0 else multiply(number(-1), Name(x))
        yield from (tidy(divide(ONE, power(at, number(p)))) for p in _FAR)
        if sign(point) > 0:
            yield divide(ONE, multiply(Name(x), call("ln", Name(x))))
        return
    away = tidy(subtract(Name(x), point) if side > 0 else subtract(point, Name(x)))
    yield from (tidy(divide(ONE, power(away, number(p)))) for p in _NEAR)


def _step(node: Integral, point: Node, side: int, other: Node, ratio: Node, value: Node) -> Step:
    x = node.variable
    way = "" if infinite(point) else "+" if side > 0 else "-"
    near = _piece(node, point, side)
    if infinite(value):
        told = say("In the end the integrand is the larger one: its quotient by the simpler one grows without bound.")
    else:
        told = say("The two integrands behave alike there: their quotient has a limit that is not zero.")
    before = (
        Shown("equal", Limit(ratio, x, point, way), value, told),
        Shown("equal", Integral(other, x, *near), Diverges(), say("This simpler integral is known to diverge.")),
    )
    reason = say("Compared with {other} near {point}, the integral diverges too.", other=other, point=point)
    return Step("comparison", Diverges(), reason, before=before)


def _piece(node: Integral, point: Node, side: int) -> tuple[Node, Node]:
    """A stretch that ends at the point and on which the simpler function is defined."""
    assert node.lower is not None
    assert node.upper is not None
    if infinite(point):
        return (number(2), point) if sign(point) > 0 else (point, number(-2))
    return (point, tidy(subtract(point, number(-1)))) if side > 0 else (tidy(subtract(point, ONE)), point)


TECHNIQUE = Technique(
    id="comparison",
    title="Comparison",
    cost=8.0,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_1^\infty \frac{1}{x + \sqrt{x}} \, dx"),
        Example(r"\int_0^\infty \frac{\sqrt{x + 3}}{\sqrt{x^3 - x^2 + x + 1}} \, dx"),
        Example(r"\int_0^1 \frac{e^x}{x} \, dx"),
        Example(r"\int_2^\infty \frac{1}{\ln x} \, dx"),
        Example(r"\int_2^\infty \frac{x}{x^2 + \cos x} \, dx"),
        Example(r"\int_1^\infty \frac{1}{x^2 + \sqrt{x}} \, dx", applies=False),
        Example(r"\int_1^2 \frac{1}{x} \, dx", applies=False),
    ),
    explains="If f/g tends to a number that is not zero, the integrals of f and g diverge together or converge together; "
    "if it grows without bound and that of g diverges, so does that of f.",
)
