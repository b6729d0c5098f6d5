"""A hard stop for a search: how many questions it may open and how long it may take."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from time import process_time

from ..algebra.clock import Stopped, left
from ..kernel import Claim, check
from ..kernel.claims import Verdict

#: The part of the time after which nothing new is looked for: what was found must still be written down and checked.
SEARCHING = 0.75


@dataclass(frozen=True, slots=True)
class Budget:
    """`nodes` questions opened, `seconds` of the processor."""

    nodes: int = 1500
    seconds: float = 10.0


class Meter:
    """What one search has used of its budget."""

    def __init__(self, budget: Budget) -> None:
        self.most = self.allowed = budget.nodes
        self.nodes = 0
        start = process_time()
        self.search_by = start + SEARCHING * budget.seconds
        self.deadline = start + budget.seconds

    def open(self) -> None:
        """Count one question.

        Raises:
            Stopped: nothing is left.
        """
        self.nodes += 1
        if self.nodes > self.most:
            raise Stopped
        left()

    @contextmanager
    def more(self, nodes: int) -> Iterator[None]:
        """Within this block at most so many questions more. Counted in questions, not in time: a second run finds the same."""
        saved = self.most
        self.most = min(saved, self.nodes + nodes)
        try:
            yield
        finally:
            self.most = saved

    @property
    def spent(self) -> bool:
        return self.nodes > self.allowed or process_time() > self.search_by


def judged(claim: Claim, seconds: float) -> Verdict:
    """What the kernel says within `seconds`, or within what is left where that is less.

    Raises:
        Stopped: nothing is left.
    """
    return check(claim, seconds=min(seconds, left()))
