"""Contrasts that a book could have and does not: questions close in form whose solutions begin differently.

Closeness is the share of parts that two integrands have in common when every number is wiped out, with what stands letter for letter in
both counted once more: the surface by which a student takes one for the other.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from ..algebra import tidy
from ..notation import plain
from ..notation.build import children, names
from ..notation.message import Message, Translate, fill, say
from ..notation.question import Question
from ..notation.tree import Constant, Integral, Name, Negative, Node, Number
from .contrast import same_method
from .data import Book, Examined, MadeContrast
from .surface import alike

#: Below this share two questions are not taken for one another (common practice, no source: set by looking at the demo book).
LEAST = 0.45


@dataclass(frozen=True, slots=True)
class Suggestion:
    """Two problems for a contrast, the nearest in form first named; or one, for two methods (`second` is empty).

    `closeness` is between 0 and 1, `methods` are technique ids, `why` says what the two share.
    """

    kind: str
    first: str
    second: str
    closeness: float
    methods: tuple[str, str]
    why: tuple[Message, ...]

    def said(self, tell: Translate = str) -> str:
        """Why, in the language that `tell` speaks."""
        return " ".join(fill(message, plain, tell) for message in self.why)

    def as_data(self, tell: Translate = str) -> dict[str, object]:
        problems = [path.removesuffix(".md") for path in (self.first, self.second) if path]
        return {
            "kind": self.kind,
            "problems": problems,
            "closeness": round(self.closeness, 3),
            "methods": list(self.methods),
            "why": self.said(tell),
        }


def suggestions(book: Book) -> tuple[Suggestion, ...]:
    """Look-alikes and questions with two methods that no contrast of the book shows yet, the most telling first."""
    known = {frozenset(made.source.pages) for made in book.contrasts}
    used = _pairs(book.contrasts)
    worked = [e for e in book.examined if e.sound and e.question is not None and e.derivation is not None and e.derivation.routes]
    found = [s for s in _look_alikes(worked) if frozenset((s.first, s.second)) not in used]
    found += [s for s in _two_methods(worked) if frozenset((s.first,)) not in known]
    return tuple(sorted(found, key=lambda s: (-s.closeness, s.first, s.second)))


def _pairs(contrasts: Iterable[MadeContrast]) -> set[frozenset[str]]:
    return {frozenset(pair) for made in contrasts for pair in combinations(made.source.pages, 2)}


def _look_alikes(worked: Sequence[Examined]) -> Iterator[Suggestion]:
    asked = {e.problem.path: e.question for e in worked if e.question is not None}
    prints = [(e, shape(asked[e.problem.path])) for e in worked]
    for (first, ours), (second, theirs) in combinations(prints, 2):
        one, two = first, second
        close = closeness(ours, theirs)
        if close < LEAST:
            continue
        if _solves(one, two):
            one, two = two, one  # the tempting method comes first: it must not do for the other
        if _solves(one, two) or same_method(_first(one), _first(two)):
            continue
        methods = (_first(one), _first(two))
        shared = alike((asked[one.problem.path], asked[two.problem.path]))
        yield Suggestion("look-alikes", one.problem.path, two.problem.path, close, methods, tuple(shared))


def _two_methods(worked: Sequence[Examined]) -> Iterator[Suggestion]:
    """A question with two methods, the closer in cost the better worth comparing."""
    for each in worked:
        routes = each.derivation.routes if each.derivation else ()
        other = next((route for route in routes[1:] if not same_method(route.method, routes[0].method)), None)
        if other is not None:
            close = min(routes[0].cost, other.cost) / max(routes[0].cost, other.cost, 1.0)
            why = say("Lines: {count} by one method, {others} by the other.", count=len(routes[0].lines), others=len(other.lines))
            yield Suggestion("two methods", each.problem.path, "", close * 0.9, (routes[0].method, other.method), (why,))


def _first(examined: Examined) -> str:
    assert examined.derivation is not None
    return examined.derivation.routes[0].method


def _solves(one: Examined, two: Examined) -> bool:
    """Whether the first method of one problem is among the methods of another."""
    routes = two.derivation.routes if two.derivation else ()
    return any(same_method(_first(one), route.method) for route in routes)


@dataclass(frozen=True, slots=True)
class Shape:
    """The parts of an integrand, numbers wiped out and as they stand, and whether it is integrated between limits."""

    kind: str
    blurred: Counter[str]
    exact: frozenset[Node]


def shape(question: Question) -> Shape:
    body, x = tidy(question.body), question.variable
    parts = [part for part in _parts(body) if x in names(part)]
    limits = isinstance(question.node, Integral) and question.node.lower is not None
    return Shape(f"{question.kind} {limits}", Counter(_blurred(part, x) for part in parts), frozenset(p for p in parts if p != Name(x)))


def closeness(one: Shape, two: Shape) -> float:
    """How near two questions are in form: 0 not at all, 1 the same."""
    if one.kind != two.kind:
        return 0.0
    both, either = (one.blurred & two.blurred).total(), (one.blurred | two.blurred).total()
    exact = len(one.exact & two.exact) / max(len(one.exact | two.exact), 1)
    return (2 * both / max(either, 1) + exact) / 3


def _parts(node: Node) -> Iterator[Node]:
    yield node
    for part in children(node):
        yield from _parts(part)


def _blurred(node: Node, x: str) -> str:
    match node:
        case Negative(argument=inner):
            return _blurred(inner, x)
        case Name(name=name):
            return "x" if name == x else "c"
        case Number() | Constant():
            return "c"
    inside = ",".join(_blurred(part, x) for part in children(node))
    return f"{type(node).__name__}:{getattr(node, 'function', '')}({inside})"
