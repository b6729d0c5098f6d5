"""Symmetry about zero between opposite limits: odd halves cancel, even halves are equal; of a sum the odd terms drop out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ...algebra.expand import distribute, multiply_out, split_constant
from ...algebra.numbers import number_of
from ...algebra.tidy import tidy
from ...notation.build import TWO, ZERO, add, infinite, multiply, names, negate, number, substitute, subtract, summands
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Integral, Name, Node, Quotient, Sum
from ..base import Example, Shown, Step, Technique
from .split_interval import kept, replaced, without_bars

#: Parts of the upper limit at which a symmetry that is not plain to see is tried; it is proved before it is used.
_TRIED = (Fraction(1, 7), Fraction(3, 7), Fraction(6, 7))
_NEAR = 1e-12
#: What an even integrand costs more than one that loses something: its two halves are no easier than the whole.
EVEN = 1.0

Lines = tuple[tuple[Node, Message], ...]


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None or infinite(node.lower) or infinite(node.upper):
        return
    if tidy(add(node.lower, node.upper)) != ZERO or tidy(node.lower) == ZERO:
        return
    x, body = node.variable, tidy(node.integrand)
    if x not in names(body):
        return
    plain = _parity(body, x)
    found = plain or _tried(body, x, node.upper)
    if found is None:
        yield from _term_by_term(node, body)
        return
    shown = Shown("equal", _mirrored(body, x), negate(body) if found < 0 else body, say("The integrand at the opposite place."))
    before = () if plain is not None else (shown,)
    if found < 0:
        reason = say("The integrand is odd and the limits are opposite: the two halves cancel.")
        yield Step("symmetry", ZERO, reason, before=before)
    else:
        reason = say("The integrand is even and the limits are opposite: both halves are the same.")
        yield _halved(node, body, reason, EVEN, before)


def _mirrored(body: Node, x: str) -> Node:
    return tidy(substitute(body, {x: negate(Name(x))}))


def _parity(body: Node, x: str) -> int | None:
    """1 for even, -1 for odd, None where neither is plain to see."""
    mirrored = _mirrored(body, x)
    return -1 if tidy(add(mirrored, body)) == ZERO else 1 if tidy(subtract(mirrored, body)) == ZERO else None


def _tried(body: Node, x: str, end: Node) -> int | None:
    """The same by its size at some places."""
    for sense in (1, -1):
        gaps = []
        for share in _TRIED:
            place = tidy(multiply(number(share), end))
            here, there = (number_of(substitute(body, {x: at})) for at in (place, negate(place)))
            gaps.append(None if here is None or there is None else there - sense * here)
        if all(gap is not None and abs(gap) < _NEAR for gap in gaps):
            return sense
    return None


def _halved(node: Integral, body: Node, reason: Message, cost: float, before: tuple[Shown, ...] = (), through: Lines = ()) -> Step:
    """Twice the half from zero on, where bars may not be needed any more."""
    assert node.upper is not None
    constant, rest = split_constant(body, node.variable)
    twice = tidy(multiply(TWO, constant)) if not names(constant) else TWO
    half = Integral(body if names(constant) else rest, node.variable, ZERO, node.upper)
    pieces = without_bars(half.integrand, node.variable, ZERO, node.upper) or []
    if len(pieces) == 1 and pieces[0][2] != half.integrand:
        through = (*through, (multiply(twice, half), reason))
        reason = kept(half.integrand)
        return Step("symmetry", multiply(twice, replaced(half, pieces[0][2])), reason, before=before, through=through)
    return Step("symmetry", multiply(twice, half), reason, before=before, through=through, extra_cost=cost)


def _term_by_term(node: Integral, body: Node) -> Iterator[Step]:
    """A sum, as it stands or multiplied out, whose terms are odd or even: the odd ones drop out."""
    x = node.variable
    ways = ((body, ()), *(((apart, ((replaced(node, apart), reason),))) for apart, reason in _sums(body, x)))
    for way, through in ways:
        senses = [(_parity(term, x), term) for term in summands(way)]
        odd = [term for sense, term in senses if sense == -1]
        even = [term for sense, term in senses if sense == 1]
        if not odd or not even or len(odd) + len(even) < len(senses):
            continue
        reason = say("The limits are opposite: what is odd cancels, and the halves of what is even are the same.")
        yield _halved(node, tidy(add(*even)), reason, 0.0, through=through)
        return


def _sums(body: Node, x: str) -> Iterator[tuple[Node, Message]]:
    if isinstance(body, Quotient):
        yield distribute(body), say("Split the fraction: divide every term above by {below}.", below=body.bottom)
    elif not isinstance(body, Sum):
        yield multiply_out(body, x), say("Multiply out.")


TECHNIQUE = Technique(
    id="symmetry",
    title="Symmetry",
    cost=1.0,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_{-2}^{2} x^5 \, dx"),
        Example(r"\int_{-\pi}^{\pi} x^2 \sin 3x \, dx"),
        Example(r"\int_{-2}^{2} (x^4 + \cos x) \, dx"),
        Example(r"\int_{-2}^{2} (x^4 + x) \, dx"),
        Example(r"\int_{-1}^{1} \frac{x^2 + \sin x}{1 + x^2} \, dx"),
        Example(r"\int_{-1}^{1} \ln(x + \sqrt{x^2 + 1}) \, dx"),
        Example(r"\int_{-2}^{2} (x^4 + e^x) \, dx", applies=False),
        Example(r"\int_{-1}^{2} x^5 \, dx", applies=False),
    ),
    explains="An odd function has as much area below the axis on one side of zero as above it on the other; an even one has it twice.",
)
