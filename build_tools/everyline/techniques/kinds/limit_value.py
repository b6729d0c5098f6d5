"""Put the point in; or read off what no indeterminate form hides."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...algebra.tidy import tidy
from ...notation.build import infinite, names
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Call, DoesNotExist, Limit, Power, Quotient, Root
from ..base import Example, Shown, Step, Technique
from ..brackets import plain_at
from ..limit_reasons import why
from ..limiting import at_once, both, node_of
from .limit_algebra import barred

#: What reading off costs more where a line of algebra shows the value: so much that it is no second method beside it.
FAR = 12.0


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    value = at_once(node)
    if value is None:
        return
    if isinstance(value, DoesNotExist):
        yield Step("limit-value", value, say("The limits from the left and from the right differ."), before=tuple(_sides(node)))
        return
    side = node.side or ("" if infinite(node.point) else "+")
    reason = why(Limit(node.body, node.variable, node.point, side), value)
    if node.side == "" and infinite(value) and not infinite(node.point):
        yield Step("limit-value", value, say("Both limits are the same."), before=tuple(_sides(node)))
        return
    yield Step("limit-value", value, reason, extra_cost=FAR if against(node) else 0.0)


def _sides(node: Limit) -> Iterator[Shown]:
    """The limits from the left and from the right, each with its reason."""
    for side in ("-", "+"):
        one = Limit(node.body, node.variable, node.point, side)
        value = at_once(one)
        if value is not None:
            yield Shown("equal", one, value, why(one, value))


def against(node: Limit) -> bool:
    """Whether there is more to write than the value: growth over growth is divided by the highest power, f^g is e^(g ln f)."""
    body = tidy(node.body)
    if barred(body, node):
        return True
    if isinstance(body, Root | Call) and infinite(node.point):  # the inside is worked out first
        inside = body.radicand if isinstance(body, Root) else body.argument
        return not infinite(both(node)) and against(Limit(inside, node.variable, node.point, node.side))
    if isinstance(body, Power) and node.variable in names(body.base) and node.variable in names(body.exponent):
        return bool(infinite(node.point)) or not plain_at(body, node.variable, node.point)
    if not infinite(node.point) or not isinstance(body, Quotient):
        return False
    ends = [both(Limit(part, node.variable, node.point, "")) for part in (body.top, body.bottom)]
    return all(end is not None and infinite(end) for end in ends)


TECHNIQUE = Technique(
    id="limit-value",
    title="Putting the point in",
    cost=1.0,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 2} (x^2 - 3x)"),
        Example(r"\lim_{x \to \infty} \arctan x"),
        Example(r"\lim_{x \to 0^+} \ln x"),
        Example(r"\lim_{x \to 0} \frac{\sin x}{x}", applies=False),
    ),
    explains="Where nothing indeterminate stands, the limit is read off.",
)
