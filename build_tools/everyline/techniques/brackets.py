"""An antiderivative between two ends: the bracket, the limit of a bracket where an end cannot be put in, and what they open to."""

from __future__ import annotations

from dataclasses import dataclass

from ..algebra.numbers import sign
from ..algebra.tidy import tidy
from ..notation.build import ZERO, add, infinite, names, negate, replace, substitute, subtract, walk
from ..notation.tree import (
    Absolute,
    Call,
    Evaluation,
    Integral,
    Limit,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bracket:
    """`shown` is the bracket (where both ends need a limit: the two limits), `opened` what it means.

    `limits` are those of the antiderivative at ends that cannot be put in.
    """

    shown: Node
    opened: Node
    limits: tuple[Limit, ...]


def turned(low: Node, high: Node) -> bool:
    """Whether the upper limit is the smaller one."""
    return not (infinite(low) or infinite(high)) and sign(tidy(subtract(high, low))) < 0


def bracket(node: Integral, primitive: Node) -> Bracket:
    """The bracket of an integral between limits with an antiderivative of it."""
    x, low, high = node.variable, node.lower, node.upper
    assert low is not None
    assert high is not None
    back = turned(low, high)
    top, top_limit = _end(node, primitive, high, "+" if back else "-")
    bottom, bottom_limit = _end(node, primitive, low, "-" if back else "+")
    limits = tuple(end for end in (top_limit, bottom_limit) if end is not None)
    if len(limits) != 1:
        opened = less(top, bottom)
        return Bracket(opened if limits else Evaluation(primitive, x, low, high), opened, limits)
    letter = next(c for c in "bctsrk" if c not in names(primitive) | {x} | names(low) | names(high))
    moving = Name(letter)
    (limit,) = limits
    at_top = top_limit is not None
    open_bracket = Evaluation(primitive, x, *((low, moving) if at_top else (moving, high)))
    here = substitute(primitive, {x: moving})
    fixed = tidy(bottom if at_top else top)  # the end that can be put in is worked out at once
    difference = subtract(here, fixed) if at_top else subtract(fixed, here)
    return Bracket(
        Limit(open_bracket, letter, limit.point, limit.side), Limit(difference, letter, limit.point, limit.side), limits
    )  # fmt: skip


def less(top: Node, bottom: Node) -> Node:
    """What is at the upper end less what is at the lower one, with a bracket around each of them that has a sign or several terms."""
    return top if bottom == ZERO else negate(bottom) if top == ZERO else Sum((top, Negative(bottom)))


def _written(value: Node, point: Node) -> Node:
    """A value as a hand writes it when a point is put in: no bars around a positive number, a² for aa."""
    for part in walk(value):
        if isinstance(part, Absolute) and not names(part) and sign(tidy(part.argument)) > 0:
            value = replace(value, part, part.argument)
    if not names(point):
        return add(*(term for term in value.terms if term != Negative(ZERO))) if isinstance(value, Sum) else value
    return add(*(tidy(term) for term in value.terms)) if isinstance(value, Sum) else tidy(value)


def _end(node: Integral, primitive: Node, point: Node, side: str) -> tuple[Node, Limit | None]:
    """The value at an end, or the limit that stands for it where the integrand or the antiderivative is not defined there."""
    x = node.variable
    if plain_at(primitive, x, point) and plain_at(node.integrand, x, point):
        return _written(substitute(primitive, {x: point}), point), None
    limit = Limit(primitive, x, point, "" if infinite(point) else side)
    return limit, limit


def plain_at(node: Node, x: str, point: Node) -> bool:
    """Whether the point can simply be put in."""
    if infinite(point):
        return False
    try:
        return _defined(substitute(node, {x: point}))
    except ZeroDivisionError:
        return False


def _defined(node: Node) -> bool:
    match node:
        case Quotient(top=a, bottom=b):
            return _defined(a) and _defined(b) and sign(tidy(b)) != 0
        case Power(base=b, exponent=e):
            return _defined(b) and _defined(e) and (sign(tidy(b)) != 0 or sign(tidy(e)) > 0)
        case Call(function="ln", argument=a):
            return _defined(a) and sign(tidy(a)) > 0
        case Call(function="tan" | "sec", argument=a):
            return _defined(a) and sign(tidy(Call("cos", a))) != 0
        case Call(function="cot" | "csc" | "csch" | "coth", argument=a):
            return _defined(a) and sign(tidy(Call("sin" if not node.function.endswith("h") else "sinh", a))) != 0
        case Call(argument=a) | Absolute(argument=a) | Root(radicand=a):
            return _defined(a)
        case Sum(terms=ts):
            return all(_defined(t) for t in ts)
        case Product(factors=fs):
            return all(_defined(f) for f in fs)
        case Number():
            return True
    inner = getattr(node, "argument", None)
    return _defined(inner) if inner is not None else not infinite(node)
