"""An answer put in the place of the open part that asked for it, and new letters put back."""

from __future__ import annotations

from ..algebra.terms import term_of
from ..algebra.tidy import tidy
from ..notation.build import add, contains, names, negate, replace, substitute, summands
from ..notation.message import Message, say
from ..notation.tree import Derivative, Integral, Limit, Negative, Node
from .search import Plan, open_parts

#: Techniques of which several may be used in one line.
TOGETHER = frozenset({"sum", "power", "table", "linear-inside", "derivative-table", "derivative-sum"})


def closed(node: Node) -> bool:
    return not contains(node, (Integral, Derivative, Limit))


def value(plan: Plan) -> Node:
    """What the plan comes to, in the question's variable."""
    result = plan.step.result
    for part in plan.parts:
        result = put(result, part.question.node, value(part))
    return returned(result, plan)


def in_single_angles(node: Node, plan: Plan) -> Node:
    """An expression in an angle's multiples written in the angle itself: what `back` replaces by something that still has the letter."""
    letters = {name for name, _ in plan.step.bindings}
    for old, new in plan.step.back:
        if letters & names(new):
            node = replace(node, old, new)
    return tidy(node)


def returned(node: Node, plan: Plan) -> Node:
    """An expression with the names of the plan's step put back."""
    for old, new in plan.step.back:
        node = replace(node, old, new)
    for name, inside in reversed(plan.step.bindings):
        node = substitute(node, {name: inside})
    return tidy(node)


def put(whole: Node, part: Node, result: Node) -> Node:
    """The expression with one open part replaced; a factor in front is multiplied through a sum."""
    if whole == part:
        return result
    terms: list[Node] = []
    done = False
    for term in summands(whole):
        if done or not _holds(term, part):
            terms.append(term)
            continue
        done = True
        terms += _through(term, part, result)
    return tidy(add(*terms))


def _holds(term: Node, part: Node) -> bool:
    return any(p == part for p in open_parts(term))


def _through(term: Node, part: Node, result: Node) -> list[Node]:
    if isinstance(part, Limit):
        return [replace(term, part, result)]
    if not isinstance(part, Integral):
        return [tidy(replace(term, part, result))]
    inner = summands(result)
    if isinstance(term, Negative) and term.argument == part:
        return [negate(t) for t in inner]
    factors = term_of(term)
    if factors.exponent(part) == 1:
        return [tidy(replace(term, part, t)) for t in inner]
    return [replace(term, part, result)]


def together(plan: Plan) -> bool:
    """Whether the whole plan fits in one line."""
    return plan.step.technique in TOGETHER and not plan.step.bindings and all(together(p) for p in plan.parts)


def leaves(plan: Plan) -> list[Plan]:
    """The plans at the end of its branches, from left to right."""
    return [plan] if not plan.parts else [leaf for part in plan.parts for leaf in leaves(part)]


def in_one_go(plans: list[Plan]) -> Message:
    """What is said of several easy plans in one line."""
    if plans[0].question.kind == "indefinite":
        return say("Integrate term by term.")
    return say("Differentiate term by term.") if len(plans) == 1 else say("Differentiate each part.")
