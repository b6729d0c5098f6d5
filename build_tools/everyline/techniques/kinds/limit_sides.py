"""One side at a time: where bars change their sign at the point, the two one-sided limits are looked at apart."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.limits import sign_near, tends
from ...algebra.tidy import tidy
from ...notation.build import infinite, names, negate, replace, walk
from ...notation.message import say
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
    way, body = (1 if side == "+" else -1), node.body
    bars = next((p for p in walk(body) if isinstance(p, Absolute)), None)
    if bars is None:
        return []
    near = sign_near(bars.argument, node.variable, node.point, way)
    plain: Node = bars.argument if near > 0 else tidy(negate(bars.argument))
    bare = replace(body, bars, plain)
    value = tends(tidy(bare), node.variable, node.point, way)
    if not near or value is None:
        return []
    told = say("On this side {bars} = {plain}.", bars=bars, plain=plain)
    here = Limit(body, node.variable, node.point, side)
    if node.variable not in names(tidy(bare)):
        return [Shown("equal", here, value, told)]
    lines: list[Shown] = []
    if at_once(Limit(bare, node.variable, node.point, side)) is not None:
        passages = [(tidy(bare), told)]
    else:
        found = next(cancelling(bare, node.variable, node.point), None)
        passages = [(bare, told)] if found is None else [(bare, told), *found.through, (found.new, found.reason)]
    for new, reason in passages:
        following: Node = Limit(new, node.variable, node.point, side) if node.variable in names(new) else tidy(new)
        lines.append(Shown("equal", here, following, reason))
        if not isinstance(following, Limit):
            return lines
        here = following
    return [*lines, Shown("equal", here, value, why(here, value))]


TECHNIQUE = Technique(
    id="limit-sides",
    title="One side at a time",
    cost=1.8,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 0} \frac{|x|}{x}"),
        Example(r"\lim_{x \to 2} \frac{|x - 2|}{x^2 - 4}"),
        Example(r"\lim_{x \to 0^+} \frac{|x|}{x}", applies=False),
        Example(r"\lim_{x \to 1} \frac{x^2 - 1}{x - 1}", applies=False),
    ),
    explains="A limit exists where the limits from the left and from the right exist and are the same.",
)
