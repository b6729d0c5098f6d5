"""An absolute value between limits: split where its inside is zero, then write it without bars on each piece."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from ..algebra.numbers import infinite, number_of
from ..algebra.tidy import tidy
from ..algebra.zeros import zeros_between
from ..notation.build import add, negate, number, replace, substitute, walk
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Absolute, Call, Integral, Node
from .base import Example, Step, Technique
from .brackets import turned
from .squares import with_bars


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None or turned(node.lower, node.upper):
        return
    x = node.variable
    body = with_bars(node.integrand)
    bars = [p for p in dict.fromkeys(walk(body)) if isinstance(p, Absolute) or (isinstance(p, Call) and p.function == "sgn")]
    cuts: list[Node] = []
    for bar in bars:
        found = zeros_between(bar.argument, x, node.lower, node.upper)
        if found is None:
            return
        cuts += [z for z in found if z not in cuts]
    if not bars:
        return
    cuts.sort(key=lambda z: float(number_of(z) or 0))
    ends = [node.lower, *cuts, node.upper]
    pieces = [_piece(body, bars, x, a, b) for a, b in pairwise(ends)]
    kept = [p for p in pieces if p is not None]
    if len(kept) != len(pieces):
        return
    if cuts:
        reason = say("The sign changes at {place}: split there.", place=cuts[0])
    else:
        reason = say("The inside keeps its sign between the limits: write it without bars.")
    yield Step("split-interval", add(*kept), reason)


def _piece(body: Node, bars: list[Absolute | Call], x: str, low: Node, high: Node) -> Node | None:
    """The integral over one piece with every bar resolved."""
    inner = _inside(low, high)
    if inner is None:
        return None
    for bar in bars:
        value = number_of(substitute(bar.argument, {x: inner}))
        if value is None or not (value > 0 or value < 0):
            return None
        plus: Node = bar.argument if isinstance(bar, Absolute) else number(1)
        body = replace(body, bar, plus if value > 0 else negate(plus))
    return Integral(tidy(body), x, low, high)


def _inside(low: Node, high: Node) -> Node | None:
    """A number between the ends."""
    if infinite(low) and infinite(high):
        return number(0)
    if infinite(high):
        return tidy(add(low, number(1)))
    if infinite(low):
        return tidy(add(high, number(-1)))
    a, b = number_of(low), number_of(high)
    return None if a is None or b is None else number(Fraction(float((a + b) / 2)).limit_denominator(10**6))


TECHNIQUE = Technique(
    id="split-interval",
    title="Splitting at a change of sign",
    cost=1.5,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_{-2}^{3} |x - 1| \, dx"),
        Example(r"\int_0^{\pi} |\cos x| \, dx"),
        Example(r"\int_0^3 |x^2 - 4| \, dx"),
        Example(r"\int_{-4}^{-2} \sqrt{x^2 + 2x + 1} \, dx"),
        Example(r"\int_0^3 x\operatorname{sgn}(x - 1) \, dx"),
        Example(r"\int_0^3 (x^2 - 4) \, dx", applies=False),
    ),
    explains="On each side of a zero of g, |g| is g or -g; the integral is the sum over the pieces.",
)
