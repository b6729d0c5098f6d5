"""Open ends of an improper integral: what each moving term tends to, and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..algebra.growth import joined_logs
from ..algebra.limits import tends
from ..algebra.tidy import tidy
from ..notation.build import ZERO, add, infinite, names, negate, replace, summands, walk
from ..notation.message import Message, say
from ..notation.tree import Limit, Negative, Node, Sum
from ..techniques.limit_reasons import why


@dataclass(frozen=True, slots=True)
class Ends:
    """`joined` is the expression with logarithms taken together where only their difference has a limit (else None), `shown` the
    expression with the value of each moving term in its place, `limits` these values one by one, `reason` the telling one of them."""

    joined: Node | None
    shown: Node
    limits: tuple[tuple[Limit, Node], ...]
    reason: Message


def at_ends(opened: Node) -> Ends | None:
    """The limits of an expression worked out term by term; None where one has no finite value."""
    joined = opened
    found: list[tuple[Limit, Node]] = []
    for limit in [p for p in walk(opened) if isinstance(p, Limit)]:
        better = _together(limit)
        if better is not limit:
            joined = replace(joined, limit, better)
        parts = list(_moving(better))
        if any(value is None or infinite(value) for _, value in parts):
            return None
        found += [(part, value) for part, value in parts if value is not None]
    shown = joined
    for limit in [p for p in walk(joined) if isinstance(p, Limit)]:
        shown = replace(shown, limit, _placed(limit, dict(found)))
    return Ends(joined if joined != opened else None, shown, tuple(found), _reason(found))


def _one(limit: Limit, body: Node) -> Limit:
    return Limit(body, limit.variable, limit.point, limit.side)


def _value(limit: Limit) -> Node | None:
    return tends(limit.body, limit.variable, limit.point, -1 if limit.side == "-" else 1)


def _together(limit: Limit) -> Limit:
    """The limit with its logarithms as one, or all that moves as one, where term by term there is no value."""
    if all(value is not None and not infinite(value) for _, value in _moving(limit)):
        return limit
    moving = tuple(t for t in summands(limit.body) if limit.variable in names(t))
    one = joined_logs(moving, limit.variable)
    if one is None:
        return limit
    fixed = [t for t in summands(limit.body) if t not in moving]
    return _one(limit, add(tidy(one), *fixed))


def _moving(limit: Limit) -> Iterator[tuple[Limit, Node | None]]:
    """Each moving term without its sign, as a limit of its own, with its value; all as one where they have none apart."""
    for term in summands(limit.body):
        if limit.variable in names(term):
            one = _one(limit, term.argument if isinstance(term, Negative) else term)
            yield one, _value(one)


def _placed(limit: Limit, values: dict[Limit, Node]) -> Node:
    """0 - 0 + 1: the value of each term where it stood."""
    placed: list[Node] = []
    for term in summands(limit.body):
        if limit.variable not in names(term):
            placed.append(term)
            continue
        below = isinstance(term, Negative)
        value = values[_one(limit, term.argument if isinstance(term, Negative) else term)]
        placed.append(value if not below or (value == ZERO and not placed) else negate(value) if value != ZERO else Negative(ZERO))
    return placed[0] if len(placed) == 1 else Sum(tuple(placed))


def _reason(found: list[tuple[Limit, Node]]) -> Message:
    """The reason that tells most: a race of two growths before what is plain."""
    said = [why(limit, value) for limit, value in found]
    plain = ("The exponent tends to {value}.", "The denominator {bottom} grows without bound.",
             "The function is continuous there: put the point in.")  # fmt: skip
    first = next((m for m in said if m.text not in plain), said[0] if said else None)
    return first or say("Work out the values.")
