"""The worked solution that a question's page shows first, with what a student is asked to do with it; also of a family's other numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..derive import Budget, derive
from ..derive.route import Route
from ..notation.question import Question
from .blanks import blanks
from .data import HandSolution, Work
from .misstep import misstep


def preferred(question: Question, hand: Sequence[HandSolution], routes: Sequence[Route]) -> Work | None:
    """The author's own solution, or the first that was derived; None where there is neither."""
    solutions = (*(each.lines for each in hand[:1]), *(route.lines for route in routes))
    if not solutions:
        return None
    method = "" if hand else routes[0].method
    return Work(question, solutions[0], method, blanks(question, solutions[0]), misstep(question, solutions))


def by_method(question: Question, method: str, allowed: frozenset[str] | None, seconds: float) -> Work | None:
    """The cheapest solution by a method, without finer steps; None where none is found."""
    budget = Budget(seconds=seconds)
    found = derive(question, allowed=allowed, budget=budget, most=1).routes
    if not found or found[0].method != method:  # asked for by name it is found, too, but that takes a longer search
        found = derive(question, allowed=allowed, methods=(method,), budget=budget, most=1).routes
    bare = (replace(route, lines=tuple(replace(line, detail=()) for line in route.lines)) for route in found)
    return preferred(question, (), tuple(bare))
