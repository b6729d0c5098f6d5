"""One side at a time: where bars change their sign at the point, the two one-sided limits are looked at apart."""

from __future__ import annotations

from collections.abc import Iterable

from ..algebra.limits import sign_near, tends
from ..algebra.numbers import infinite
from ..algebra.tidy import tidy
from ..notation.build import negate, replace, walk
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Absolute, DoesNotExist, Limit, Node
from .base import Example, Shown, Step, Technique
from .limiting import at_once, node_of


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    if node.side or infinite(node.point) or at_once(node) is not None:
        return
    shown = [one for side in ("-", "+") if (one := _one_side(node, side)) is not None]
    if len(shown) < 2:
        return
    left, right = (s.right for s in shown)
    if left == right:
        yield Step("limit-sides", left, say("Both limits are the same."), before=tuple(shown))
    else:
        yield Step("limit-sides", DoesNotExist(), say("The limits from the left and from the right differ."), before=tuple(shown))


def _one_side(node: Limit, side: str) -> Shown | None:
    """The limit from one side, its bars written as what they are there."""
    way, body = (1 if side == "+" else -1), node.body
    bars = next((p for p in walk(body) if isinstance(p, Absolute)), None)
    if bars is None:
        return None
    near = sign_near(bars.argument, node.variable, node.point, way)
    plain: Node = bars.argument if near > 0 else tidy(negate(bars.argument))
    value = tends(tidy(replace(body, bars, plain)), node.variable, node.point, way)
    if not near or value is None:
        return None
    return Shown(
        "equal", Limit(body, node.variable, node.point, side), value, say("On this side {bars} = {plain}.", bars=bars, plain=plain)
    )


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
