"""An absolute value between limits: split where its inside is zero, then write it without bars on each piece."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from ...algebra.numbers import number_of
from ...algebra.tidy import tidy
from ...algebra.zeros import zeros_between
from ...notation.build import add, infinite, negate, number, replace, substitute, walk
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Integral, Negative, Node
from ..base import Example, Step, Technique
from ..brackets import turned
from ..squares import half_angle_squares, with_bars

#: An end, an end, and the integrand between them without bars.
Piece = tuple[Node, Node, Node]


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None or turned(node.lower, node.upper):
        return
    barred = tuple(_barred(node.integrand))
    body = barred[-1][0] if barred else node.integrand
    pieces = without_bars(body, node.variable, node.lower, node.upper) if _bars(body) else None
    if not pieces:
        return
    through = tuple((replaced(node, shown), reason) for shown, reason in barred)
    result = add(*(_placed(replaced(node, plain, low, high)) for low, high, plain in pieces))
    yield Step("split-interval", result, _reason(pieces, body), through=through)


def apart(question: Question) -> Step | None:
    """The same split with the integrand left as it is, for pieces that are then worked out one by one."""
    node = question.node
    assert isinstance(node, Integral)
    assert node.lower is not None
    assert node.upper is not None
    *_, body = (node.integrand, *(barred for barred, _ in _barred(node.integrand)))
    pieces = without_bars(body, node.variable, node.lower, node.upper) or []
    result = add(*(replaced(node, node.integrand, low, high) for low, high, _ in pieces))
    return Step("split-interval", result, _reason(pieces, body)) if len(pieces) > 1 else None


def replaced(node: Integral, body: Node, low: Node | None = None, high: Node | None = None) -> Integral:
    """The integral of another integrand, between other limits where they are given."""
    return Integral(body, node.variable, low or node.lower, high or node.upper)


def _placed(piece: Integral) -> Node:
    """A sign in front of the integrand goes in front of the integral."""
    if isinstance(piece.integrand, Negative):
        return negate(replaced(piece, piece.integrand.argument))
    return piece


def _reason(pieces: list[Piece], body: Node) -> Message:
    cuts = [low for low, _, _ in pieces[1:]]
    if len(cuts) == 1:
        return say("The sign changes at {place}: split there.", place=cuts[0])
    if len(cuts) == 2:
        return say("The sign changes at {first} and {second}: split there.", first=cuts[0], second=cuts[1])
    if cuts:
        return say("The sign changes at {first}, {second} and so on: split there.", first=cuts[0], second=cuts[1])
    return kept(body)


def kept(body: Node) -> Message:
    """Why an integrand is the same without its bars from one limit to the other: |cos x||sin 2x| is cos x sin 2x from 0 to π."""
    if len(_bars(body)) > 1:
        return say("Between the limits the insides keep their signs or change them together: write it without bars.")
    return say("The inside keeps its sign between the limits: write it without bars.")


def _bars(body: Node) -> list[Absolute | Call]:
    return [p for p in dict.fromkeys(walk(body)) if isinstance(p, Absolute) or (isinstance(p, Call) and p.function == "sgn")]


def _barred(body: Node) -> Iterator[tuple[Node, Message]]:
    """The integrand with roots of squares as bars; a half angle makes squares of 1 + cos u and 1 - cos u first."""
    squared, identity = half_angle_squares(body)
    if identity is not None:
        yield squared, say("Use {identity}.", identity=identity)
    barred = with_bars(squared)
    if barred != squared:
        yield tidy(barred), say("The root of a square is the absolute value.")


def without_bars(body: Node, x: str, low: Node, high: Node) -> list[Piece] | None:
    """The pieces between the zeros of what stands in bars, the innermost bars first; None where not all could be told."""
    bars = [b for b in _bars(body) if not _bars(b.argument)]
    if not bars:
        return [(low, high, tidy(body))]
    cuts: list[Node] = []
    for bar in bars:
        found = zeros_between(bar.argument, x, low, high)
        if found is None:
            return None
        cuts += [z for z in found if z not in cuts]
    cuts.sort(key=lambda z: float(number_of(z) or 0))
    pieces: list[Piece] = []
    for a, b in pairwise([low, *cuts, high]):
        plain = _resolved(body, bars, x, a, b)
        inner = None if plain is None else without_bars(plain, x, a, b)
        if inner is None:
            return None
        pieces += inner
    return _joined(pieces)


def _joined(pieces: list[Piece]) -> list[Piece]:
    """Neighbours with the same integrand as one piece: the inside only touches zero there."""
    made: list[Piece] = []
    for low, high, plain in pieces:
        before = made.pop()[0] if made and made[-1][2] == plain else low
        made.append((before, high, plain))
    return made


def _resolved(body: Node, bars: list[Absolute | Call], x: str, low: Node, high: Node) -> Node | None:
    """The integrand on one piece with these bars resolved."""
    inner = _inside(low, high)
    if inner is None:
        return None
    for bar in bars:
        value = number_of(substitute(bar.argument, {x: inner}))
        if value is None or not (value > 0 or value < 0):
            return None
        plus: Node = bar.argument if isinstance(bar, Absolute) else number(1)
        body = replace(body, bar, plus if value > 0 else negate(plus))
    return body


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
        Example(r"\int_{-2}^3 ||x| - 1| \, dx"),
        Example(r"\int_0^{\pi} |\sin x - \cos x| \, dx"),
        Example(r"\int_0^{\pi} \sqrt{1 + \cos x} \, dx"),
        Example(r"\int_0^3 (x^2 - 4) \, dx", applies=False),
    ),
    explains="On each side of a zero of g, |g| is g or -g; the integral is the sum over the pieces.",
)
