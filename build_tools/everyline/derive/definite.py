"""Integrals between limits: an antiderivative by any method and its values, or a move of its own (changed limits, a split, symmetry)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace

from ..algebra.clock import Stopped
from ..kernel import Equal, Setting
from ..notation.build import contains, negate, without_constant
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Diverges, Integral, Interval, Name, Node
from ..techniques import Step, Technique, catalogue, changed_limits, comparison, gaussian, improper, reflection, split_interval, symmetry
from ..techniques.brackets import turned
from .pieces import apart, known
from .putting import closed
from .route import Derivation, Line, Route
from .search import Plan
from .steps import value_claim
from .valued import Valued, diverging, proved_either, valued
from .writing import NotWritten, Writer

Finder = Callable[[Question], Derivation]

#: What a teacher sees before reaching for an antiderivative.
AT_SIGHT = ("symmetry", "split-interval")
#: Moves of their own, in the order in which they are tried.
MOVES = (symmetry.TECHNIQUE, split_interval.TECHNIQUE, comparison.TECHNIQUE, gaussian.TECHNIQUE, reflection.TECHNIQUE)


def definite(
    question: Question, find: Finder, one: Finder, most: int, allowed: frozenset[str], wanted: tuple[str, ...] = ()
) -> Derivation:  # fmt: skip
    """The worked solutions of an integral between limits, the one a teacher would choose first.

    `find` answers the indefinite integral by every method asked for, `one` any integral by the best; `allowed` are the
    moves of this kind that may be used, `wanted` those that were asked for.
    """
    found = find(inner(question))
    routes: list[Route] = []
    with suppress(Stopped):
        routes += _all(question, found, one, allowed)
    if wanted:
        routes = [r for m in wanted for r in routes if m in r.techniques]
    routes.sort(key=lambda r: (r.techniques[0] not in AT_SIGHT or (r.techniques[:1] == ("symmetry",) and r.cost > 2), r.cost))
    if routes:
        return Derivation(question, tuple(_different(routes)[:most]), missing=found.missing if not wanted else None)
    missing = found.missing or say("An antiderivative was found, but its values at the limits could not be decided.")
    return Derivation(question, (), missing=missing)


def inner(question: Question) -> Question:
    """The integral without its limits, on the interval between them."""
    node = question.node
    assert isinstance(node, Integral)
    assert node.lower is not None
    assert node.upper is not None
    ends = (node.upper, node.lower) if turned(node.lower, node.upper) else (node.lower, node.upper)
    return Question(Integral(node.integrand, node.variable), question.given, Interval(*ends))


def _different(routes: list[Route]) -> list[Route]:
    kept: dict[tuple[str, ...], Route] = {}
    for route in routes:
        kept.setdefault(route.techniques, route)
    return list(kept.values())


def _all(question: Question, found: Derivation, one: Finder, allowed: frozenset[str]) -> Iterator[Route]:
    primitive = without_constant(found.routes[0].answer) if found.routes else None
    for move in MOVES:
        if move.id in allowed:
            yield from _moved(question, move, one, primitive)
    parted = improper.inside(question)
    for route in found.routes:
        if parted is not None:
            yield from _parted(question, parted, route)
            continue
        better = _changed(question, route, one) if changed_limits.TECHNIQUE.id in allowed else None
        if better is None:
            better = _evaluated(question, route)
        if better is not None:
            yield better


# -- the moves ------------------------------------------------------------------------------------------------------


def _evaluated(question: Question, route: Route) -> Route | None:
    """The antiderivative of a route between the limits."""
    node = question.node
    assert isinstance(node, Integral)
    try:
        made = valued(question, node, {node: route})
    except NotWritten:
        made = None
    made = made or diverging(question, node, route)
    if made is None:
        return None
    return Route(question, _once((*route.techniques, *made.marks)), made.lines, made.value, route.cost + 1)


def _parted(question: Question, step: Step, route: Route) -> Iterator[Route]:
    """An integral that is improper between its limits: each piece by the same antiderivative; else that it diverges."""
    short = known(question, route)

    def solve(piece: Question) -> tuple[Valued, Node] | None:
        first = piece.node == next(_parts(step.result))
        made = valued(piece, piece.node, {piece.node: route if first else short})
        return None if made is None else (made, without_constant(route.answer))

    with suppress(NotWritten):
        made = apart(question, step, solve)
        if made is not None:
            yield Route(question, _once((*route.techniques, *made.marks)), made.lines, made.value, route.cost + 2)
            return
    diverges = _evaluated(question, route)
    if diverges is not None and contains(diverges.answer, Diverges):
        yield diverges


def _moved(question: Question, move: Technique, one: Finder, primitive: Node | None) -> Iterator[Route]:
    for step in move.propose(question):
        made = _tried(question, step, one, primitive) or (_one_by_one(question, one) if move.id == "split-interval" else None)
        if made is not None:
            yield Route(question, _once((move.id, *made.marks)), made.lines, made.value, move.cost + step.extra_cost + made.cost)


def _tried(question: Question, step: Step, one: Finder, primitive: Node | None) -> Valued | None:
    """The lines of a move, or None where one of them could not be checked."""
    with suppress(NotWritten):
        return _stepped(question, step, one, primitive)
    return None


def _one_by_one(question: Question, one: Finder) -> Valued | None:
    """An integral with bars split, its pieces worked out one by one: more lines than all together, and each of them is proved."""
    step = split_interval.apart(question)

    def solve(piece: Question) -> tuple[Valued, Node] | None:
        (bare,) = split_interval.propose(piece)
        made = _stepped(piece, bare, one, None)
        (part,) = _parts(bare.result)
        found = one(inner(replace(piece, node=part))).routes
        if made is None or not found:
            return None
        primitive = without_constant(found[0].answer)
        return made, primitive if bare.result == part else negate(primitive)

    with suppress(NotWritten):
        return None if step is None else apart(question, step, solve)
    return None


def _changed(question: Question, route: Route, one: Finder) -> Route | None:
    """The route's own substitution with the limits carried over."""
    lets = {(line.left, line.shown) for line in route.lines if line.kind == "let"}
    methods = frozenset(route.techniques[:1])
    for step in changed_limits.changed(question, methods):
        ((name, inside),) = step.bindings
        first = step.before[0]
        if (Name(name), inside) not in lets and (first.left, first.right) not in lets:
            continue
        with suppress(NotWritten):
            made = _stepped(question, step, one, None)
            if made is not None:
                names = _once((route.techniques[0], step.technique, *route.techniques[1:], *made.marks))
                return Route(question, names, made.lines, made.value, route.cost + 0.5)
    return None


def _stepped(question: Question, step: Step, one: Finder, primitive: Node | None) -> Valued | None:
    """The lines of a move of its own and those of the integrals that it leaves."""
    node = question.node
    assert isinstance(node, Integral)
    asked = inner(question)
    writer = Writer(asked)
    writer.bindings = step.bindings
    plan = Plan(asked, step, (), 0.0)
    setting = Setting(question.variable, None, question.given, step.bindings)
    lines = [writer.prepare(shown, plan) for shown in step.before]
    here: Node = node
    for shown, reason in (*step.through, (step.result, step.reason)):
        claims = (value_claim(node, shown, setting, primitive), Equal(here, shown, setting))
        lines.append(Line("equal", shown, reason, proved_either(*claims)))
        here = shown
    if closed(step.result):
        return Valued(tuple(lines), step.result, (), 0.0)
    solved: dict[Integral, Route] = {}
    for part in (p for p in _parts(step.result) if p not in solved):
        found = one(inner(replace(question, node=part)))
        if not found.routes:
            return None
        solved[part] = found.routes[0]
    made = valued(question, step.result, solved)
    if made is None:
        return None
    cost = sum(route.cost for route in solved.values())
    marks = tuple(t for route in solved.values() for t in route.techniques)
    return Valued((*lines, *made.lines), made.value, (*marks, *made.marks), cost)


def _parts(node: Node) -> Iterator[Integral]:
    from .search import open_parts

    yield from (p for p in open_parts(node) if isinstance(p, Integral))


def _once(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def moves(allowed: frozenset[str] | None) -> frozenset[str]:
    """The moves for integrals between limits that may be used: a book that teaches none of them takes them for known."""
    own = frozenset(t.id for t in catalogue().values() if t.kinds == ("definite",))
    return own if allowed is None or not own & allowed else own & allowed
