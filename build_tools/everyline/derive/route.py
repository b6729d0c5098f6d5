"""Routes: whole worked solutions, every line of them checked."""

from __future__ import annotations

from dataclasses import dataclass

from ..kernel import Checked
from ..kernel.claims import Verdict
from ..notation.build import ONE
from ..notation.message import Message
from ..notation.question import Question
from ..notation.tree import Inequality, Integral, Name, Node


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a worked solution.

    `kind` `equal`: the expression `shown`, equal to the line before (for an indefinite integral: up to a constant);
    `let`: a name, `left = shown`; `differential`: `d(left) = shown · d(variable)`; `form`: an equation of differentials, both sides
    kept as their integrals. `detail` are the finer lines of its fold.
    """

    kind: str
    shown: Node
    reason: Message
    checked: Checked | None
    left: Node | None = None
    detail: tuple[Line, ...] = ()
    variable: str = ""

    @property
    def forms(self) -> tuple[Integral, Integral] | None:
        """The sides of a line between differentials, each as its integral: of `du = 2x dx` those of 1 and of 2x. None for other lines."""
        match self.kind, self.left, self.shown:
            case "differential", Name(name=name), factor:
                return Integral(ONE, name), Integral(factor, self.variable)
            case "form", Integral() as left, Integral() as right:
                return left, right
        return None


@dataclass(frozen=True, slots=True)
class Route:
    """One worked solution: the question, its lines, the answer (with + C where there is one).

    `techniques` are those that name its method, in order; `used` are all, with the rules that every method uses.
    """

    question: Question
    techniques: tuple[str, ...]
    lines: tuple[Line, ...]
    answer: Node
    cost: float
    used: frozenset[str] = frozenset()

    @property
    def method(self) -> str:
        """The id of the technique that names the method: the dearest one that a teacher would call it by."""
        return self.techniques[0]


def formulas(route: Route) -> tuple[Node, ...]:
    """What stands on the lines, without the reasons: two routes that agree in it are one method."""
    return tuple(line.shown for line in route.lines)


@dataclass(frozen=True, slots=True)
class Attempt:
    """A tempting move and what comes of it: why it helps or does not."""

    technique: str
    tried: Node
    derivative: Node
    left_over: Node | None
    works: bool
    reason: Message


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """Two answers to one question: the lines from one to the other and the constant between them.

    There is one constant for each interval, with its inequality, where they differ by several; else one for all (None).
    """

    first: Node
    second: Node
    lines: tuple[Line, ...]
    constants: tuple[tuple[Inequality | None, Node], ...]
    checked: Verdict


@dataclass(frozen=True, slots=True)
class Derivation:
    """All that the deriver found for a question.

    `missing` says why when there is no route, `refused` why a method that was asked for (by its name; a substitution is `u`) gives none.
    """

    question: Question
    routes: tuple[Route, ...]
    attempts: tuple[Attempt, ...] = ()
    reconciliations: tuple[Reconciliation, ...] = ()
    missing: Message | None = None
    refused: tuple[tuple[str, Message], ...] = ()
