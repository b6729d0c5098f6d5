"""A solution in one line, written in more: the parts of a sum apart, then one after the other; a linear inside by a substitution."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from ..algebra import tidy
from ..algebra.expand import split_constant
from ..derive import Budget, derive
from ..derive.putting import put
from ..derive.route import Line
from ..kernel import Checked, Equal, SameDerivative, check
from ..notation.build import add, multiply, summands
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Derivative, Integral, Node

#: How long a check may take, and how far a substitution is looked for.
SECONDS, _BUDGET = 0.5, Budget(nodes=40)

Part = tuple[Node, Integral | Derivative]


def slower(question: Question, lines: Sequence[Line]) -> tuple[Line, ...]:
    """More lines for what was integrated or differentiated at once; the lines as they are where there are several, or no more to say."""
    if len(lines) != 1 or question.kind not in ("indefinite", "derivative"):
        return tuple(lines)
    apart = _apart(question, lines[0])
    if len(apart) > 1 or question.kind == "derivative":
        return apart
    found = derive(question, methods=("substitution",), budget=_BUDGET).routes
    return found[0].lines if found else apart


def _apart(question: Question, last: Line) -> tuple[Line, ...]:
    node = question.node
    claim = last.checked.claim if last.checked else None
    if not isinstance(claim, SameDerivative | Equal) or not isinstance(node, Integral | Derivative):
        return (last,)
    x, body = node.variable, question.body
    kind = Integral if isinstance(node, Integral) else Derivative
    parts = [(constant, kind(inner, x)) for constant, inner in (split_constant(term, x) for term in summands(body))]
    done: dict[Node | None, Node] = {finer.left: finer.shown for finer in last.detail if finer.left is not None}
    written: list[Line] = []
    before: Node = node
    for shown, reason in (*_one_by_one(node, parts, done), (last.shown, last.reason)):
        checked = check(replace(claim, left=before, right=shown), seconds=SECONDS)
        if not isinstance(checked, Checked):
            return (last,)
        written.append(Line("equal", shown, reason, checked))
        before = shown
    return tuple(written)


def _one_by_one(node: Node, parts: Sequence[Part], done: Mapping[Node | None, Node]) -> Iterator[tuple[Node, Message]]:
    """The parts of a sum apart, and then all but the last of them worked out."""
    shown = tidy(add(*(multiply(constant, part) for constant, part in parts)))
    if shown == node:
        return
    if isinstance(node, Derivative):
        yield shown, say("Differentiate term by term.")
    else:
        yield shown, say("Integrate term by term.") if len(parts) > 1 else say("A constant factor stands in front of the integral.")
    for _, part in parts[:-1]:
        if part not in done:
            return
        shown = put(shown, part, done[part])
        yield shown, say("")
