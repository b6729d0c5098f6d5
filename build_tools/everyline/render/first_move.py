"""“Which first move?”: before any algebra a student picks among the moves that work and the tempting ones, and sees what each leads to."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile

from ..book.data import Examined
from ..derive.route import Attempt, Derivation, Line, Route
from ..notation import plain
from ..notation.question import Question
from ..notation.tree import Equation, Name, Node
from .addresses import Here
from .formulas import formula, sentence, wide
from .markup import element, escape, fold
from .solutions import identities, method

NAME = "first-move"


@dataclass(frozen=True, slots=True)
class Move:
    """One first move: what it is called, how it is chosen (`u = …`), and what comes of it (HTML)."""

    title: str
    chosen: tuple[Node, ...]
    works: bool
    outcome: str

    @property
    def order(self) -> str:
        """A place among the others that says nothing of whether it works, the same in every build."""
        return hashlib.sha256("|".join((self.title, *map(plain, self.chosen))).encode()).hexdigest()


def first_moves(examined: Examined, here: Here) -> str:
    """The moves as folds, of which one is open at a time; empty where there is nothing to choose between."""
    if examined.derivation is None or examined.question is None:
        return ""
    moves = sorted(_distinct(_moves(examined.derivation, examined.question, here)), key=lambda move: move.order)
    if len(moves) < 2 or not any(move.works for move in moves) or _plain_sailing(examined.derivation):
        return ""
    return "".join(_shown(move, number, here) for number, move in enumerate(moves, 1))


def no_help(examined: Examined, here: Here) -> str:
    """The fold that says of the tempting moves why they do not help; empty where there is none."""
    derivation = examined.derivation
    failed = [] if derivation is None or _plain_sailing(derivation) else [a for a in derivation.attempts if not a.works]
    if not failed:
        return ""
    items = (element("li", sentence(attempt.reason, here)) for attempt in failed)
    title = element("span", here.tell("What does not help here"), class_="ev-fold__title")
    return fold("no-help", title, element("ul", *items), kind="ev-no-help")


def _plain_sailing(derivation: Derivation) -> bool:
    """Whether there is nothing to decide: one way, and that in a single line."""
    return len(derivation.routes) == 1 and len(derivation.routes[0].lines) == 1


def _moves(derivation: Derivation, question: Question, here: Here) -> Iterator[Move]:
    for route, identity in zip(derivation.routes, identities(derivation.routes), strict=True):
        yield _of_route(route, identity, here)
    for attempt in derivation.attempts:
        yield _of_attempt(attempt, here)


def _of_route(route: Route, identity: str, here: Here) -> Move:
    before = list(takewhile(lambda line: line.kind != "equal" or line.left is not None, route.lines))
    first = next((line for line in route.lines if line.kind == "equal" and line.left is None), None)
    chosen = tuple(Equation(line.left, line.shown) for line in before if line.kind == "let" and line.left is not None)[:1]
    link = element("a", here.tell("the worked solution"), href=f"#{identity}")
    goes_on = element("p", here.tell("How it goes on: {link}.", link=link))
    outcome = element("p", here.tell("This works. It leads to")) + _first(first, here) + goes_on
    return Move(method(route.techniques[0], here.tell), chosen, True, outcome)


def _first(line: Line | None, here: Here) -> str:
    return "" if line is None else wide(line.shown, here.tell("What it leads to"), here)


def _of_attempt(attempt: Attempt, here: Here) -> Move:
    said = sentence(attempt.reason, here)
    works = element("p", here.tell("This works too."), " ", said) if attempt.works else element("p", said)
    return Move(method(attempt.technique, here.tell), (Equation(Name("u"), attempt.tried),), attempt.works, works)


def _distinct(moves: Iterator[Move]) -> list[Move]:
    """Each move once, the first of those that read alike."""
    found: dict[tuple[str, ...], Move] = {}
    for move in moves:
        found.setdefault((move.title, *map(plain, move.chosen)), move)
    return list(found.values())


def _shown(move: Move, number: int, here: Here) -> str:
    chosen = "".join(f" {element('span', formula(node, here), class_='ev-move__choice')}" for node in move.chosen)
    summary = element("span", escape(move.title) + (":" if chosen else ""), class_="ev-fold__title") + chosen
    kind = "ev-move ev-move--works" if move.works else "ev-move ev-move--fails"
    body = element("div", move.outcome, class_="ev-fold__body")
    return element("details", element("summary", summary), body, id=f"move-{number}", name=NAME, class_=f"ev-fold {kind}")
