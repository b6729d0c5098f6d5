"""Put the point in; or read off what no indeterminate form hides."""

from __future__ import annotations

from collections.abc import Iterable

from ..algebra.numbers import infinite
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import DoesNotExist
from .base import Example, Step, Technique
from .limiting import at_once, node_of


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    value = at_once(node)
    if value is None:
        return
    if isinstance(value, DoesNotExist):
        reason = say("The limits from the left and from the right differ.")
    elif infinite(node.point) or infinite(value):
        reason = say("Compare what grows with what stays.")
    else:
        reason = say("The function is continuous there: put the point in.")
    yield Step("limit-value", value, reason)


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
