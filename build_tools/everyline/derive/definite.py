"""Integrals between limits: an antiderivative by any method and its values, or a move of its own (changed limits, a split, symmetry)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace

from ..algebra.clock import Stopped
from ..algebra.limits import swinging
from ..algebra.terms import term_of
from ..kernel import Equal, Setting
from ..notation.build import contains, infinite, negate, summands, without_constant
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Diverges, Integral, Interval, Name, Node
from ..techniques import Step, Technique
from ..techniques.brackets import turned
from ..techniques.kinds import changed_limits, comparison, evaluation, gaussian, improper, reflection, split_interval, symmetry
from .differing import SUBSTITUTING
from .pieces import apart, known
from .putting import closed
from .route import Derivation, Line, Route, formulas
from .search import Plan, open_parts
from .steps import value_claim
from .valued import Valued, diverging, proved_either, valued
from .wishing import Wish, chosen
from .writing import NotWritten, Writer

Finder = Callable[[Question], Derivation]

#: What a teacher sees before reaching for an antiderivative.
AT_SIGHT = ("symmetry", "split-interval")
#: Moves of their own, in the order in which they are tried.
MOVES = (symmetry.TECHNIQUE, split_interval.TECHNIQUE, comparison.TECHNIQUE, gaussian.TECHNIQUE, reflection.TECHNIQUE)


def definite(question: Question, find: Finder, one: Finder, most: int, wish: Wish) -> Derivation:
    """The worked solutions of an integral between limits, the one a teacher would choose first.

    `find` answers the indefinite integral by every method asked for, `one` any integral by the best.
    """
    found = find(inner(question))
    ranked: list[tuple[bool, Route]] = []
    with suppress(Stopped):
        ranked += _all(question, found, one, wish)
    ranked.sort(key=lambda r: (r[0], r[1].cost))
    routes = [route for _, route in ranked]
    if wish.methods:
        routes = [route for method in wish.methods if (route := chosen(method, routes)) is not None]
    if routes:
        return Derivation(question, tuple(_different(routes)[:most]), refused=found.refused)
    missing = found.missing or _undecided(question, without_constant(found.routes[0].answer))
    return Derivation(question, (), missing=missing, refused=found.refused)


def _undecided(question: Question, primitive: Node) -> Message:
    """Why an antiderivative led to no value: it swings far out, and that it has no limit is not proved here; or it is not seen why."""
    node = question.node
    assert isinstance(node, Integral)
    for end, side in ((node.upper, -1), (node.lower, 1)):
        if end is None or not infinite(end):
            continue
        if any(swinging(term_of(part), node.variable, end, side) for part in summands(primitive)):
            return say("The antiderivative {antiderivative} swings without end. That it has no limit there cannot be proved here.",
                       antiderivative=primitive)  # fmt: skip
    return say("An antiderivative was found, but its values at the limits could not be decided.")


def inner(question: Question) -> Question:
    """The integral without its limits, on the interval between them."""
    node = question.node
    assert isinstance(node, Integral)
    assert node.lower is not None
    assert node.upper is not None
    ends = (node.upper, node.lower) if turned(node.lower, node.upper) else (node.lower, node.upper)
    return Question(Integral(node.integrand, node.variable), question.given, Interval(*ends))


def _different(routes: list[Route]) -> list[Route]:
    """One route for each method: with the same substitution and the same moves after it two differ in wording alone."""
    kept: dict[tuple[object, ...], Route] = {}
    for route in routes:
        named = next(((line.left, line.shown) for line in route.lines if line.kind == "let" and line.left is not None), None)
        first = route.techniques[0] if named is None or route.techniques[0] not in SUBSTITUTING else named
        kept.setdefault((first, *route.techniques[1:]), route)
    split = any(route.techniques[0] in AT_SIGHT for route in routes)
    found = [route for route in kept.values() if not (split and "absolute-value" in route.techniques)]
    return [route for i, route in enumerate(found) if all(formulas(route) != formulas(other) for other in found[:i])]


def _all(question: Question, found: Derivation, one: Finder, wish: Wish) -> Iterator[tuple[bool, Route]]:
    """The routes, each with whether it has to stand behind those that are seen at once."""
    primitive = without_constant(found.routes[0].answer) if found.routes else None
    for move in MOVES:
        if move.id in wish.moves:
            yield from _moved(question, move, one, primitive)
    parted = improper.inside(question)
    for route in found.routes:
        if parted is not None:
            yield from ((True, better) for better in _parted(question, parted, route))
            continue
        better = _changed(question, route, one) if changed_limits.TECHNIQUE.id in wish.allowed else None
        plain = _evaluated(question, route) if better is None or evaluation.TECHNIQUE.id in wish.own else None
        yield from ((True, made) for made in (better, plain) if made is not None)


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
    used = route.used.union(made.marks, (evaluation.TECHNIQUE.id,))
    return Route(question, _once((*route.techniques, *made.marks)), made.lines, made.value, route.cost + 1, used)


def _parted(question: Question, step: Step, route: Route) -> Iterator[Route]:
    """An integral that is improper between its limits: each piece by the same antiderivative; else that it diverges."""

    def solve(piece: Question) -> tuple[Valued, Node] | None:
        node = piece.node
        assert isinstance(node, Integral)
        first = node == next(_parts(step.result))
        made = valued(piece, node, {node: route if first else known(question, route)})
        return None if made is None else (made, without_constant(route.answer))

    with suppress(NotWritten):
        made = apart(question, step, solve)
        if made is not None:
            used = route.used.union(made.marks, (evaluation.TECHNIQUE.id,))
            yield Route(question, _once((*route.techniques, *made.marks)), made.lines, made.value, route.cost + 2, used)
            return
    diverges = _evaluated(question, route)
    if diverges is not None and contains(diverges.answer, Diverges):
        yield diverges


def _moved(question: Question, move: Technique, one: Finder, primitive: Node | None) -> Iterator[tuple[bool, Route]]:
    for step in move.propose(question):
        made = _tried(question, step, one, primitive) or (_one_by_one(question, one) if move.id == "split-interval" else None)
        if made is not None:
            later = move.id not in AT_SIGHT or step.extra_cost >= symmetry.EVEN
            cost, used = move.cost + step.extra_cost + made.cost, made.used.union(made.marks, (move.id,))
            yield later, Route(question, _once((move.id, *made.marks)), made.lines, made.value, cost, used)


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
                return Route(question, names, made.lines, made.value, route.cost + 0.5, made.used.union(names))
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
    used = frozenset(made.marks).union(*(route.used for route in solved.values()))
    return Valued((*lines, *made.lines), made.value, (*marks, *made.marks), cost, used)


def _parts(node: Node) -> Iterator[Integral]:
    yield from (p for p in open_parts(node) if isinstance(p, Integral))


def _once(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))
