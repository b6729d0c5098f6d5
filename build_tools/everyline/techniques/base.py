"""The shape of a technique: it proposes steps, it never answers.

Each module of `kinds/` is a technique, its `TECHNIQUE`; the file name is its id. Adding one edits no other file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from ..notation.message import Message
from ..notation.question import Question
from ..notation.tree import Node, Region


@dataclass(frozen=True, slots=True)
class Shown:
    """A line of preparation or of finer detail under a step: `left = right`, as it is written on the board.

    `kind` `let` names something (`u = x^2 + 1`), `differential` is `du = 2x dx` (left the new name, right the derivative),
    `equal` is a piece of algebra that holds in the step's setting.
    """

    kind: str
    left: Node
    right: Node
    reason: Message | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One move: the question equals `result`, a tree in which every smaller question is left standing as an
    integral, a derivative or a limit (its *open parts*).

    `bindings` give each new name in terms of the question's variable (`u` → `x^2 + 1`); an open part may be in a new
    name. The kernel checks `question = result` under those bindings before the step is used.

    `back` are replacements to make in an answer before the new names are put back (the triangle of a trigonometric
    substitution: `sin theta` → `x/3`); `region` is where the open part in a new name is asked (θ between -π/2 and π/2);
    `through` are whole lines on the way from the question to the result, for moves that take several.
    """

    technique: str
    result: Node
    reason: Message
    bindings: tuple[tuple[str, Node], ...] = ()
    before: tuple[Shown, ...] = ()
    detail: tuple[Shown, ...] = ()
    extra_cost: float = 0.0
    back: tuple[tuple[Node, Node], ...] = ()
    region: Region | None = None
    through: tuple[tuple[Node, Message], ...] = ()


@dataclass(frozen=True, slots=True)
class Example:
    """A question in the book's notation, and whether the technique applies to it."""

    question: str
    applies: bool = True


@dataclass(frozen=True, slots=True)
class Technique:
    """One technique of integration, differentiation or limits.

    `cost` is how far a first-year teacher reaches for it (1 the first thing tried, 10 the last resort); `kinds` are the
    kinds of `Question` it looks at; `after` are the techniques that must have been taught before; `refuses` says why it cannot
    be used, where there is more to say than that it does not fit.
    """

    id: str
    title: str
    cost: float
    kinds: tuple[str, ...]
    propose: Callable[[Question], Iterable[Step]]
    examples: tuple[Example, ...]
    after: tuple[str, ...] = ()
    explains: str = field(default="")
    refuses: Callable[[Question], Message | None] | None = None
