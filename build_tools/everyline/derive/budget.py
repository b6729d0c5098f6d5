"""A hard stop for a search: how many questions it may open and how long it may take."""

from __future__ import annotations

from dataclasses import dataclass
from time import monotonic


@dataclass(frozen=True, slots=True)
class Budget:
    """`nodes` questions opened, `seconds` of time."""

    nodes: int = 1500
    seconds: float = 10.0


class Spent(Exception):
    """The budget is used up."""


class Meter:
    """What one search has used of its budget."""

    def __init__(self, budget: Budget) -> None:
        self.budget = budget
        self.nodes = 0
        self.deadline = monotonic() + budget.seconds

    def open(self) -> None:
        """Count one question.

        Raises:
            Spent: nothing is left.
        """
        self.nodes += 1
        self.watch()

    def watch(self) -> None:
        if self.nodes > self.budget.nodes or monotonic() > self.deadline:
            raise Spent
