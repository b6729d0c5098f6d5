"""Conjugates in a limit: roots multiplied away above and below, of one part or of both; what then cancels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..algebra.cancel import cancelled
from ..algebra.common import cancelled_alike
from ..algebra.expand import multiply_out
from ..algebra.terms import term_of
from ..algebra.tidy import join, tidy
from ..notation.build import add, divide, multiplicands, multiply, negate, power
from ..notation.message import Message, say, sentence
from ..notation.tree import Node, Root, Sum

CANCEL = sentence("Cancel {factor}.")


@dataclass(frozen=True, slots=True)
class Rewriting:
    """`new` for the body of the limit, with whole lines before it."""

    new: Node
    reason: Message
    through: tuple[tuple[Node, Message], ...] = ()


def halves(body: Node) -> tuple[Node, Node]:
    """Above and below the bar."""
    above, below = term_of(body).halves
    return join(above), join(below)


def conjugates(body: Node, x: str) -> Iterator[Rewriting]:
    above, below = halves(body)
    both = _conjugate(above), _conjugate(below)
    if both[0] is not None and both[1] is not None:
        yield from _two_conjugates(above, below, both[0], both[1])
        return
    for part in (above, below):
        other = _conjugate(part)
        if other is None:
            continue
        product = multiply_out(multiply(part, other), x)
        raw = divide(product, multiply(below, other)) if part is above else divide(multiply(above, other), product)
        reason = say("Multiply above and below by the conjugate {other}.", other=other)
        found = cancelled_alike(raw)
        new = cancelled(product, tidy(multiply(below, other)), x) if part is above else cancelled(tidy(multiply(above, other)), product, x)
        if found is not None:
            yield Rewriting(found[0], say(CANCEL, factor=found[1]), ((raw, reason),))
        elif new != tidy(raw):
            yield Rewriting(new, say("Factor and cancel."), ((raw, reason),))
        else:
            yield Rewriting(raw, reason)


def _two_conjugates(above: Node, below: Node, upper: Node, lower: Node) -> Iterator[Rewriting]:
    """Roots above and below: both conjugates at once."""
    raw = divide(multiply(multiply_out(multiply(above, upper)), lower), multiply(multiply_out(multiply(below, lower)), upper))
    reason = say("Multiply above and below by both conjugates, {first} and {second}.", first=upper, second=lower)
    found = cancelled_alike(raw)
    if found is not None:
        yield Rewriting(found[0], say(CANCEL, factor=found[1]), ((raw, reason),))
    else:
        yield Rewriting(raw, reason)


def _conjugate(node: Node) -> Node | None:
    """a - b for a + b with square roots; for a cube root a² - ab + b²."""
    if not isinstance(node, Sum) or len(node.terms) != 2:
        return None
    indices = {part.index for t in node.terms for part in (t, *multiplicands(t), getattr(t, "argument", t)) if isinstance(part, Root)}
    a, b = node.terms
    if indices == {2}:
        return add(a, negate(b))
    if indices == {3}:
        return tidy(add(power(a, 2), negate(multiply(a, b)), power(b, 2)))
    return None
