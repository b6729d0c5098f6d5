"""What every technique for limits asks of a question."""

from __future__ import annotations

from ..algebra.limits import DEEPEST, tends
from ..algebra.numbers import INFINITY, MINUS
from ..algebra.tidy import tidy
from ..notation.build import ZERO, E, contains, infinite, names, rebuild
from ..notation.question import Question
from ..notation.tree import DoesNotExist, Infinity, Limit, Node, Power


def node_of(question: Question) -> Limit:
    assert isinstance(question.node, Limit)
    return question.node


def sides(node: Limit) -> tuple[int, ...]:
    if infinite(node.point):
        return (-1 if node.point == INFINITY else 1,)
    return {"+": (1,), "-": (-1,)}.get(node.side, (1, -1))


def both(node: Limit, depth: int = 0) -> Node | None:
    """The value from all the sides that are asked, `DoesNotExist` where they differ, None where it was not found."""
    found = [tends(node.body, node.variable, node.point, side, depth) for side in sides(node)]
    if any(f is None for f in found):
        return None
    return found[0] if all(f == found[0] for f in found) else DoesNotExist()


def at_once(node: Limit) -> Node | None:
    """The value where no indeterminate form stands in the way."""
    return both(node, DEEPEST)


def settled(node: Node) -> Node | None:
    """A line with every limit in it replaced by its value."""
    if isinstance(node, Limit):
        return both(node)
    missing = False

    def change(part: Node) -> Node:
        nonlocal missing
        found = settled(part)
        missing = missing or found is None
        return part if found is None else found

    result = rebuild(node, change)
    if missing:
        return None
    if result in (INFINITY, MINUS) or isinstance(result, DoesNotExist):
        return result
    return _extended(result)


def _extended(node: Node) -> Node | None:
    """A value with infinities in it, worked out where that is plain (e^∞, e^-∞)."""
    if not contains(node, Infinity):
        return tidy(node)
    if isinstance(node, Power) and node.base == E:
        return INFINITY if node.exponent == INFINITY else ZERO if node.exponent == MINUS else None
    return None


def left_open(question: Question, body: Node) -> Node:
    """The same limit of another expression; of a number it is that number."""
    return again(question, body) if question.variable in names(body) else tidy(body)


def again(question: Question, body: Node) -> Limit:
    """The same limit of another expression."""
    node = node_of(question)
    return Limit(body, node.variable, node.point, node.side)
