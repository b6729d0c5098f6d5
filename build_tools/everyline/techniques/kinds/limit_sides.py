"""One side at a time: where bars change their sign at the point, the two one-sided limits are looked at apart."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.limits import sign_near, tends
from ...algebra.tidy import tidy
from ...notation.build import infinite, names, negate, replace, walk
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Absolute, DoesNotExist, Limit, Node
from ..base import Example, Shown, Step, Technique
from ..limit_reasons import why
from ..limiting import at_once, node_of
from .limit_algebra import cancelling


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    if node.side or infinite(node.point) or at_once(node) is not None:
        return
    sides = [_one_side(node, side) for side in ("-", "+")]
    if not all(sides):
        return
    left, right = (lines[-1].right for lines in sides)
    before = tuple(line for lines in sides for line in lines)
    if left == right:
        yield Step("limit-sides", left, say("Both limits are the same."), before=before)
    else:
        yield Step("limit-sides", DoesNotExist(), say("The limits from the left and from the right differ."), before=before)


def _one_side(node: Limit, side: str) -> list[Shown]:
    """The limit from one side, its bars written as what they are there, line by line; empty where it is not found."""
    way = 1 if side == "+" else -1
    passages = _bared(node, way)
    bare = tidy(passages[-1][0]) if passages else node.body
    value = tends(bare, node.variable, node.point, way)
    if not passages or value is None:
        return []
    if node.variable not in names(bare) or at_once(Limit(passages[-1][0], node.variable, node.point, side)) is not None:
        passages[-1] = bare, passages[-1][1]
    else:
        found = next(cancelling(passages[-1][0], node.variable, node.point), None)
        passages += [] if found is None else [*found.through, (found.new, found.reason)]
    here = Limit(node.body, node.variable, node.point, side)
    lines: list[Shown] = []
    for new, reason in passages:
        following: Node = Limit(new, node.variable, node.point, side) if node.variable in names(new) else tidy(new)
        lines.append(Shown("equal", here, following, reason))
        if not isinstance(following, Limit):
            return lines
        here = following
    return [*lines, Shown("equal", here, value, why(here, value))]


def _bared(node: Limit, way: int) -> list[tuple[Node, Message]]:
    """The body without its bars, one after the other; nothing where the sign of an inside cannot be told."""
    passages: list[tuple[Node, Message]] = []
    here = node.body
    while (bars := next((p for p in walk(here) if isinstance(p, Absolute)), None)) is not None:
        near = sign_near(bars.argument, node.variable, node.point, way)
        if not near:
            return []
        plain = bars.argument if near > 0 else tidy(negate(bars.argument))
        here = replace(here, bars, plain)
        passages.append((here, say("On this side {bars} = {plain}.", bars=bars, plain=plain)))
    return passages


TECHNIQUE = Technique(
    id="limit-sides",
    title="One side at a time",
    cost=1.8,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 0} \frac{|x|}{x}"),
        Example(r"\lim_{x \to 2} \frac{|x - 2|}{x^2 - 4}"),
        Example(r"\lim_{x \to 1} \frac{|x - 1| + |x| - 1}{x - 1}"),
        Example(r"\lim_{x \to 0^+} \frac{|x|}{x}", applies=False),
        Example(r"\lim_{x \to 1} \frac{x^2 - 1}{x - 1}", applies=False),
    ),
    explains="A limit exists where the limits from the left and from the right exist and are the same.",
)
