"""Worked solutions of a question: several, each by its own method, every line checked."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

from ..algebra.clock import Stopped, until
from ..algebra.numbers import letters
from ..algebra.order import text
from ..algebra.tidy import tidy
from ..kernel.check import samples
from ..notation.build import numbers
from ..notation.message import Message
from ..notation.question import Question
from ..notation.tree import Node
from ..techniques import Step, Technique, catalogue
from .attempts import attempts, substituted
from .budget import Budget, Meter
from .definite import definite, inner
from .differing import alike, different, signature
from .putting import closed
from .reconcile import reconcile
from .refusing import meant, refused, substitution_refused, unsolved
from .route import Attempt, Derivation, Reconciliation, Route
from .search import SILENT, Plan, Search, cheapest, questions
from .wishing import Wish, moves
from .writing import NotWritten, Writer

LIMITS = (3.0, 6.0, 10.0, 15.0, 21.0, 28.0, 36.0, 44.0, 60.0)
BEYOND = 7.0
#: How many questions more are opened to find other methods beside the preferred one.
OTHERS = 60
#: How many questions are opened for the antiderivative of an integral between limits (textbooks and tables need 40, hard ones 90).
BETWEEN = 120
#: What costs no more is known by heart.
KNOWN = 1.0


def derive(
    question: Question,
    *,
    allowed: frozenset[str] | None = None,
    methods: tuple[str, ...] = (),
    u: Node | None = None,
    budget: Budget | None = None,
    most: int = 4,
) -> Derivation:
    """All worked solutions that are worth showing, the one a teacher would choose first.

    `allowed` are the ids of the techniques that may be used (None: all), `methods` the ids of the wanted methods in
    order, `u` a wanted substitution. Never raises for a valid question; `missing` and `refused` say what could not be done.
    """
    meter = Meter(budget or Budget())
    search = Search(_allowed(question.kind, allowed), meter)
    with until(meter.deadline), letters(_choices(question)):
        if question.kind == "definite":
            return _between(search, question, most, Wish(moves(allowed), methods, u is not None), u)
        found = _found(search, question, methods, u, most)
        return replace(found, attempts=_attempts(question, found.routes), reconciliations=_reconciled(question, found.routes))


def _choices(question: Question) -> tuple[dict[str, Node], ...]:
    """Numbers that the question's letters may stand for."""
    return tuple(map(numbers, samples(question.given)))


def _between(search: Search, question: Question, most: int, wish: Wish, u: Node | None) -> Derivation:
    others = tuple(m for m in wish.methods if m not in wish.own)

    def one(asked: Question) -> Derivation:
        return _found(search, asked, (), None, 1)

    def find(asked: Question) -> Derivation:
        with search.meter.more(BETWEEN):
            found = _found(search, asked, others, u, most)
            plus = _found(search, asked, (), u, most).routes if wish.own and others else ()
        return replace(found, routes=(*found.routes, *plus))

    found = definite(question, find, one, most, wish)
    found = replace(found, attempts=_attempts(inner(question), found.routes))
    lacking = [m for m in wish.own if not any(m in route.used for route in found.routes)]
    if not lacking:
        return found
    reasons = (*found.refused, *((m, refused(search, question, m, u)) for m in lacking))
    return replace(found, refused=reasons, missing=None if found.routes else reasons[0][1])


def _found(search: Search, question: Question, methods: tuple[str, ...], u: Node | None, most: int) -> Derivation:
    if methods:
        return _asked(search, question, methods, u)
    routes = _written(question, _plans(search, question, u, most), most)
    if not routes and most == 1:  # the cheapest was all that was wanted, and could not be written down
        routes = _written(question, _plans(search, question, u, 2), 1)
    if routes:
        return Derivation(question, routes)
    if u is None:
        return Derivation(question, (), missing=unsolved(search, question))
    why = unsolved(search, question) if search.meter.spent else substitution_refused(question, u)
    return Derivation(question, (), missing=why, refused=(("u", why),))


def _attempts(question: Question, routes: tuple[Route, ...]) -> tuple[Attempt, ...]:
    used = frozenset[Node]().union(*(substituted(route.lines) for route in routes))
    try:
        return attempts(question, used)
    except Stopped:
        return ()


def _reconciled(question: Question, routes: tuple[Route, ...]) -> tuple[Reconciliation, ...]:
    """The first answer against every other that looks different."""
    found: list[Reconciliation] = []
    with suppress(Stopped):
        for route in routes[1:]:
            joined = reconcile(question, route.answer, routes[0].answer)
            found += [] if joined is None else [joined]
    return tuple(found)


def untaught(route: Route, allowed: frozenset[str]) -> tuple[str, ...]:
    """The techniques that a worked solution uses beyond those allowed, in the catalogue's order."""
    known = moves(allowed).union(t.id for t in _allowed(route.question.kind, allowed))
    return tuple(name for name in catalogue() if name in route.used - known)


def _allowed(kind: str, allowed: frozenset[str] | None) -> tuple[Technique, ...]:
    """The techniques that may be used; a book that teaches none of a kind takes that kind for known."""
    every = tuple(catalogue().values())
    if allowed is None:
        return every
    known = tuple(t for t in every if t.id in allowed)
    return known if any(kind in t.kinds for t in known) or kind in ("indefinite", "definite") else every


def _plans(search: Search, question: Question, u: Node | None, most: int) -> list[Plan]:
    best = None if u is not None else cheapest(search, question, LIMITS)
    if u is None and (best is None or most == 1):
        return [] if best is None else [best]
    found: list[Plan] = [best] if best is not None else []
    limits = (best.cost + BEYOND,) if best is not None else LIMITS
    with suppress(Stopped), until(search.meter.search_by), search.meter.more(OTHERS if best is not None else search.meter.most):
        for limit in limits:
            found += alternatives(search, question, limit, u)
            if found:
                break
    return different(found)


def alternatives(
    search: Search, question: Question, most: float, u: Node | None = None, above: frozenset[str] = frozenset(), every: bool = False
) -> Iterator[Plan]:
    """For every first step that names a method the cheapest plan that begins with it; a standard form needs no method."""
    mark = above | {text(question.body)}
    for cost, step in search.proposals(question):
        if cost > most:
            break
        known = cost <= KNOWN and step.technique in SILENT and question.kind == "indefinite" and closed(step.result)
        if known and u is None and not every and search.holds(question, step):
            yield Plan(question, step, (), cost)
            return
        if step.technique in SILENT:
            yield from _beneath(search, question, step, cost, most, u, mark, every)
        elif u is None or any(_same(inside, u) for _, inside in step.bindings):
            plan = search.follow(question, step, cost, most, mark, 0)
            if plan is not None:
                yield plan


def _same(a: Node, b: Node) -> bool:
    return text(tidy(a)) == text(tidy(b))


def _beneath(
    search: Search, question: Question, step: Step, cost: float, most: float, u: Node | None, above: frozenset[str], every: bool
) -> Iterator[Plan]:  # fmt: skip
    """Plans that begin with a silent step: the alternatives of one open part, the others done as cheaply as possible."""
    opened = questions(question, step)
    if any(text(q.body) in above for q in opened):
        return
    plain = [search.plan(q, most - cost, above, 1) for q in opened]
    if not opened:
        if u is None and search.holds(question, step):
            yield Plan(question, step, (), cost)
        return
    for i, q in enumerate(opened):
        others = [p for j, p in enumerate(plain) if j != i]
        if any(p is None for p in others) or (plain[i] is not None and not plain[i].methods and len(opened) > 1):  # type: ignore[union-attr]
            continue
        spent = cost + sum(p.cost for p in others if p is not None)
        for part in alternatives(search, q, most - spent, u, above, every):
            parts = [p for p in (*plain[:i], part, *plain[i + 1 :]) if p is not None]
            if search.holds(question, step):
                yield Plan(question, step, tuple(parts), spent + part.cost)


def _written(question: Question, plans: list[Plan], most: int) -> tuple[Route, ...]:
    routes: list[Route] = []
    with suppress(Stopped):
        for plan in plans:
            if len(routes) == most:
                break
            route = written(question, plan)
            if route is not None and not any(alike(route, r) for r in routes):
                routes.append(route)
    return tuple(routes)


def written(question: Question, plan: Plan) -> Route | None:
    """The plan as a route, or None where a line could not be checked."""
    writer = Writer(question)
    try:
        writer.follow(plan)
        lines, answer = writer.finish()
    except NotWritten:
        return None
    return Route(question, signature(plan) or (plan.step.technique,), lines, answer, plan.cost, plan.used)


def _asked(search: Search, question: Question, methods: tuple[str, ...], u: Node | None) -> Derivation:
    """One route for each wanted method, in that order."""
    best = cheapest(search, question, LIMITS)
    routes: list[Route] = []
    reasons: list[tuple[str, Message]] = []
    for method in methods:
        route = None
        with suppress(Stopped):
            route = _by(search, question, method, u, best)
        if route is None:
            reasons.append((method, refused(search, question, method, u)))
        else:
            routes.append(route)
    return Derivation(question, tuple(routes), missing=None if routes else reasons[0][1], refused=tuple(reasons))


def _by(search: Search, question: Question, method: str, u: Node | None, best: Plan | None) -> Route | None:
    start = best.cost if best is not None else 6.0
    for limit in (start + BEYOND, start + 2 * BEYOND, 36.0):
        found: list[Plan] = []
        with suppress(Stopped), until(search.meter.search_by):
            found += alternatives(search, question, limit, u, every=True)
        if best is not None and u is None:
            found.append(best)
        for wanted in meant(method):
            fitting = [p for p in found if wanted in (p.methods or (p.step.technique,))]
            fitting.sort(key=lambda p: ((p.methods or (p.step.technique,))[0] != wanted, p.cost))
            for plan in fitting:
                route = written(question, plan)
                if route is not None:
                    first = (wanted, *(t for t in route.techniques if t != wanted))
                    return replace(route, techniques=first)
    return None
