"""The shape of a slip: one common error, told both ways.

Each module of `kinds/` is a slip, its `SLIP`; the file name is its id. Adding one edits no other file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ..notation.question import Question
from ..notation.tree import Node
from .twisted import Rules


@dataclass(frozen=True, slots=True)
class Example:
    """A question, its right answer and the answer that the slip makes of it, in the book's notation.

    `antiderivative` is that of a definite integral's integrand, for slips that are made at the limits. `repairable` says whether
    the right answer can be found from the wrong one alone.
    """

    question: str
    right: str
    wrong: str
    antiderivative: str = ""
    repairable: bool = True


@dataclass(frozen=True, slots=True)
class Slip:
    """One common error.

    `explains` is the sentence for teacher and student (a key of the catalogue; it may name `{fault}`, the part of the answer at
    fault, and never the right answer); `hint` is what helps. `kinds` are the kinds of `Question` it happens in. `rank` orders
    explanations of the same answer: 1 is the most telling, 9 a mere description.

    `leads_to(question, right)` gives the wrong answers that the slip makes; for a definite integral `right` is also handed in as
    the antiderivative between its limits (`Evaluation`). `repairs(question, claimed)` gives answers that would be right if
    `claimed` came of this slip. Both only guess: the kernel decides. `rules` are the rules of differentiation as a slip in one of
    them has them, for the line of a solution in which that rule is used.
    """

    id: str
    title: str
    explains: str
    hint: str
    kinds: tuple[str, ...]
    rank: int
    leads_to: Callable[[Question, Node], Iterable[Node]]
    repairs: Callable[[Question, Node], Iterable[Node]]
    examples: tuple[Example, ...]
    rules: tuple[Rules, ...] = ()


def no_repairs(question: Question, claimed: Node) -> Iterable[Node]:
    """For slips after which the answer does not show what the right one was."""
    return ()
