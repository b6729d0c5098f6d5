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
from ..notation.build import number
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Node
from ..techniques import Step, Technique, catalogue
from .attempts import attempts
from .budget import Budget, Meter
from .definite import definite, moves
from .putting import closed
from .reconcile import reconcile
from .route import Attempt, Derivation, Reconciliation, Route, formulas
from .search import SILENT, Plan, Search, cheapest, questions
from .writing import NotWritten, Writer

LIMITS = (3.0, 6.0, 10.0, 15.0, 21.0, 28.0, 36.0, 44.0, 60.0)
BEYOND = 7.0
#: How many questions more are opened to find other methods beside the preferred one.
OTHERS = 60
#: How many questions are opened for the antiderivative of an integral between limits (textbooks and tables need 40, hard ones 90).
BETWEEN = 120
#: What costs no more is known by heart.
KNOWN = 1.0

#: What a book may call a method, and the techniques that are meant by it, the first found taken.
MEANT = {"substitution": ("substitution", "linear-substitution", "rationalising"), "table": ("table", "linear-inside")}


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
    order, `u` a wanted substitution. Never raises for a valid question; `missing` says what could not be done.
    """
    meter = Meter(budget or Budget())
    search = Search(_allowed(question.kind, allowed), meter)
    with until(meter.deadline), letters(_choices(question)):
        if question.kind == "definite":
            return _between(search, question, methods, u, most, moves(allowed))
        found = _found(search, question, methods, u, most)
        return replace(found, attempts=_attempts(question, found.routes), reconciliations=_reconciled(question, found.routes))


def _choices(question: Question) -> tuple[dict[str, Node], ...]:
    """Numbers that the question's letters may stand for."""
    return tuple({name: number(value) for name, value in chosen.items()} for chosen in samples(question.given))


def _between(
    search: Search, question: Question, methods: tuple[str, ...], u: Node | None, most: int, allowed: frozenset[str]
) -> Derivation:  # fmt: skip
    own = tuple(m for m in methods if m in catalogue() and catalogue()[m].kinds == ("definite",))
    others = tuple(m for m in methods if m not in own)

    def one(asked: Question) -> Derivation:
        return _found(search, asked, (), None, 1)

    def find(asked: Question) -> Derivation:
        with search.meter.more(BETWEEN):
            return _found(search, asked, others, u, most)

    found = definite(question, find, one, most, allowed, own)
    return found if methods or not found.routes else replace(found, missing=None)


def _found(search: Search, question: Question, methods: tuple[str, ...], u: Node | None, most: int) -> Derivation:
    if methods:
        return _asked(search, question, methods, u)
    routes = _written(question, _plans(search, question, u, most), most)
    if not routes and most == 1:  # the cheapest was all that was wanted, and could not be written down
        routes = _written(question, _plans(search, question, u, 2), 1)
    return Derivation(question, routes, missing=None if routes else _why(search, question, u))


def _attempts(question: Question, routes: tuple[Route, ...]) -> tuple[Attempt, ...]:
    used = frozenset(line.shown for route in routes for line in route.lines if line.kind == "let")
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


def _allowed(kind: str, allowed: frozenset[str] | None) -> tuple[Technique, ...]:
    """The techniques that may be used; a book that teaches none of a kind takes that kind for known."""
    every = tuple(catalogue().values())
    if allowed is None:
        return every
    known = tuple(t for t in every if t.id in allowed)
    return known if any(kind in t.kinds for t in known) or kind in ("indefinite", "definite") else every


#: Methods that differ in how much is written down, and in nothing else.
ALIKE = {"cyclic-parts": "parts", "linear-substitution": "linear-inside"}
#: Moves that do not make a method of their own beside another one.
MINOR = frozenset({
    "linear-inside", "linear-substitution", "splitting", "expansion", "simplify", "completing-square", "numerator-split", "division",
    "arctangent-form", "arcsine-form", "identity", "change-of-base",
})  # fmt: skip


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
    return _different(found)


def _different(plans: list[Plan]) -> list[Plan]:
    """The cheapest plan of every method, cheapest first."""
    kept: dict[tuple[str, ...], Plan] = {}
    for plan in sorted(plans, key=lambda p: p.cost):
        kept.setdefault(essence(plan), plan)
    return list(kept.values())


def essence(plan: Plan) -> tuple[str, ...]:
    """What two plans must differ in to be different methods: the small moves on the way do not count beside a great one."""
    methods = tuple(dict.fromkeys(ALIKE.get(m, m) for m in signature(plan)))
    great = tuple(m for m in methods if m not in MINOR)
    return great or methods[:1]


def signature(plan: Plan) -> tuple[str, ...]:
    """What makes a method: its naming techniques in order, repetitions counted once."""
    return tuple(dict.fromkeys(plan.methods))


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
            if route is not None and all(formulas(route) != formulas(r) for r in routes):
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
    return Route(question, signature(plan) or (plan.step.technique,), lines, answer, plan.cost)


def _asked(search: Search, question: Question, methods: tuple[str, ...], u: Node | None) -> Derivation:
    """One route for each wanted method, in that order."""
    best = cheapest(search, question, LIMITS)
    routes: list[Route] = []
    missing: Message | None = None
    with suppress(Stopped):
        for method in methods:
            route = _by(search, question, method, u, best)
            if route is not None:
                routes.append(route)
            else:
                missing = missing or _impossible(search, question, method)
    return Derivation(question, tuple(routes), missing=missing or (None if routes else _why(search, question, u)))


def _by(search: Search, question: Question, method: str, u: Node | None, best: Plan | None) -> Route | None:
    start = best.cost if best is not None else 6.0
    for limit in (start + BEYOND, start + 2 * BEYOND, 36.0):
        found: list[Plan] = []
        with suppress(Stopped), until(search.meter.search_by):
            found += alternatives(search, question, limit, u, every=True)
        if best is not None and u is None:
            found.append(best)
        for wanted in MEANT.get(method, (method,)):
            fitting = [p for p in found if wanted in (p.methods or (p.step.technique,))]
            fitting.sort(key=lambda p: ((p.methods or (p.step.technique,))[0] != wanted, p.cost))
            for plan in fitting:
                route = written(question, plan)
                if route is not None:
                    first = (wanted, *(t for t in route.techniques if t != wanted))
                    return Route(route.question, first, route.lines, route.answer, route.cost)
    return None


def _impossible(search: Search, question: Question, method: str) -> Message:
    """Why a wanted method cannot be used: it says so itself, it does not fit, or what it leaves cannot be done."""
    known = catalogue().get(method)
    if known is None:
        return say("There is no method {method}.", method=method)
    own = known.refuses(question) if known.refuses is not None and question.kind in known.kinds else None
    if own is not None:
        return own
    return say("The method {method} does not lead to an answer here.", method=Message(known.title))


def _why(search: Search, question: Question, u: Node | None) -> Message:
    if u is not None:
        return say("The substitution {u} does not lead to an answer here.", u=u)
    if search.meter.spent:
        return say("No worked solution was found within the time allowed.")
    if next(search.proposals(question), None) is None:
        return say("None of the methods allowed here applies.")
    return say("The methods allowed here do not lead to an answer.")
