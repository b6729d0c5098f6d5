"""What a page needs to judge a student's answer without an algebra system, and without holding the key.

An antiderivative is right when it rises by the right amounts between the points of each interval; a derivative, a value or a limit
when its values fit. The points are such that no slip and no small change of the key fits at all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median
from typing import Any

from ..derive import Budget, certify
from ..derive.route import Derivation
from ..kernel import Checked, IntegralValue, check, question_claim
from ..notation import Context, plain
from ..notation.build import ZERO, names, summands, walk, without_constant
from ..notation.question import Question
from ..notation.tree import Diverges, DoesNotExist, Evaluation, Infinity, Integral, Name, Negative, Node
from . import sampling

#: How many intervals and choices of parameters a page carries at most.
ZONES, CHOICES = 6, 2
#: A value is carried times this, so that a key that is a plain number cannot be read off.
SCALE = 0.7309672
#: Up to how many times the middle one the largest step may be: beside a far larger one nothing is seen of a small one.
RANGE, TINY = 1e3, 1e-9
#: Answers that are no numbers, by what a page calls them.
WORDS: dict[str, Node] = {
    "diverges": Diverges(), "doesnotexist": DoesNotExist(), "infinity": Infinity(), "-infinity": Negative(Infinity()),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Zone:
    """One interval of the domain for one choice of the parameters.

    `points` are values of the variable (none for a number), `values` the answer's increments from the first point, or its values
    times `SCALE`, none of them further from the true one than `bound`; `base` is the answer itself at the first point, `letters`
    what the letters of substitutions stand for at each point.
    """

    at: tuple[tuple[str, float], ...]
    points: tuple[float, ...]
    values: tuple[float, ...]
    bound: float
    base: float = 0.0
    letters: tuple[tuple[str, tuple[float, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class Trap:
    """A wrong answer that a slip leads to: its first values in one zone, the slip's sentence and hint, the part at fault."""

    slip: str
    zone: int
    values: tuple[float, ...]
    says: str
    hint: str
    fault: Node | None


@dataclass(frozen=True, slots=True)
class Trial:
    """A question as a page tries answers on it.

    `kind` is that of the question; `names` are the letters that an answer may use. `words` are the right answers where none is a
    number (`diverges`, `infinity`, `-infinity`, `doesnotexist`). `forms` are the known right answers as they are `written`, the key
    first, to tell whether a right answer is in another form: a page carries only the marks of both. `log` and `decimal` are the
    book's conventions (`notation.Context`).
    """

    kind: str
    variable: str
    names: tuple[str, ...]
    zones: tuple[Zone, ...] = ()
    traps: tuple[Trap, ...] = ()
    words: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()
    log: str = "ask"
    decimal: str = "point"

    @property
    def rises(self) -> bool:
        """Whether only differences of values count."""
        return self.kind == "indefinite"

    @property
    def runs(self) -> bool:
        """Whether an answer depends on the variable."""
        return self.kind in ("indefinite", "derivative")


def trial(question: Question, key: Node, derivation: Derivation | None = None, context: Context | None = None) -> Trial | None:
    """What a page needs to try answers to a question whose `key` is proved; None where no such data can be made.

    `derivation` gives the antiderivative behind a value (for the slips made with it), other forms, and letters of substitutions;
    `context` how the book's formulas are read.
    """
    from .traps import mistaken, traps, wrong_ways

    answer = without_constant(key)
    routes = derivation.routes if derivation else ()
    forms = tuple(dict.fromkeys(written(form) for form in (key, *(route.answer for route in routes))))
    kind, given = question.kind, question.given.names
    letters = tuple(sorted(given | {question.variable} if kind in ("indefinite", "derivative") else given))
    read = context or Context()
    bare = Trial(kind, question.variable, letters, (), (), _words(question, answer), forms, read.log, read.decimal)
    ways = wrong_ways(question, answer, _antiderivative(question, derivation))
    for attempt in range(4):
        zones = tuple(_zones(bare, question, answer, _substitutions(question, derivation), attempt))
        if not zones:
            return None
        made = replace(bare, zones=zones)
        if not mistaken(made, question, answer, ways):
            return replace(made, traps=traps(made, question, answer, ways))
    return None


def written(answer: Node) -> str:
    """An answer as plain text without its constant, the same in whatever order its terms stand."""
    bare = without_constant(answer)
    return ",".join(sorted(plain(term) for term in summands(bare)))


def _words(question: Question, answer: Node) -> tuple[str, ...]:
    """Every word that answers the question, where the key is one: what grows without bound may be said to diverge, too."""
    if answer not in WORDS.values():
        return ()
    return tuple(word for word, node in WORDS.items() if isinstance(check(question_claim(question, node), seconds=1.0), Checked))


def _zones(bare: Trial, question: Question, answer: Node, letters: Mapping[str, Node], attempt: int) -> Iterator[Zone]:
    choices = sampling.choices(question.given, CHOICES)
    for fixed in choices:
        at = tuple((name, float(value)) for name, value in fixed.items())
        if bare.words:
            yield Zone(at, (), (), 0.0)
        elif not bare.runs:
            found = sampling.constant(answer, fixed)
            if found is not None:
                yield Zone(at, (), tuple(SCALE * value for value in found.values), found.bound)
        else:
            for piece in sampling.components(question, answer, fixed)[: ZONES // len(choices)]:
                points, found = _spread(bare, question, answer, piece, fixed, attempt)
                if found is not None:
                    values = found.values if bare.rises else tuple(SCALE * value for value in found.values)
                    zone = Zone(at, points, values, found.bound)
                    yield replace(zone, **_more(zone, question, answer, letters, fixed)) if bare.rises else zone


def _more(zone: Zone, question: Question, answer: Node, letters: Mapping[str, Node], fixed: sampling.Parameters) -> dict[str, Any]:
    """What only an antiderivative's zone has: its own first value, and the meanings of the letters of substitutions."""

    def at(tree: Node, points: tuple[float, ...]) -> tuple[float, ...]:
        found = sampling.sampled(tree, question.variable, points, fixed, increments=False)
        return found.values if found else ()

    meanings = ((name, at(tree, zone.points)) for name, tree in letters.items())
    return {"base": at(answer, zone.points[:1])[0], "letters": tuple((name, values) for name, values in meanings if values)}


def _spread(
    bare: Trial, question: Question, answer: Node, piece: tuple[float, float], fixed: sampling.Parameters, attempt: int
) -> tuple[tuple[float, ...], sampling.Sampled | None]:
    """Points of an interval at which the values are of like size, closer together where they grow fast; and the values."""
    points: tuple[float, ...] = ()
    found: sampling.Sampled | None = None
    for narrowed in range(9):
        points = sampling.points(piece, attempt, 0.6**narrowed)
        found = sampling.sampled(answer, question.variable, points, fixed, increments=bare.rises)
        if found is not None:
            steps = (b - a for a, b in pairwise(found.values)) if bare.rises else found.values
            sizes = [abs(step) for step in steps]
            if max(sizes) <= RANGE * max(median(sizes), TINY):
                break
    return points, found


def _substitutions(question: Question, derivation: Derivation | None) -> dict[str, Node]:
    """The letters that the worked solutions bring in, each with the first meaning that it has."""
    if question.kind != "indefinite" or derivation is None:
        return {}
    lines = (line for route in derivation.routes for line in route.lines)
    lets = ((line.left.name, line.shown) for line in lines if line.kind == "let" and isinstance(line.left, Name))
    found: dict[str, Node] = {}
    for name, tree in lets:
        if name != question.variable and question.variable in names(tree) <= question.given.names | {question.variable}:
            found.setdefault(name, tree)
    return found


def _antiderivative(question: Question, derivation: Derivation | None) -> Node | None:
    """The antiderivative that a worked solution puts its limits into; a divergent integral, which has none such, is asked anew."""
    node = question.node
    if derivation is None or not isinstance(node, Integral) or node.lower is None:
        return None
    shown = (part for route in derivation.routes for line in route.lines for part in walk(line.shown))
    found = (part.body for part in shown if isinstance(part, Evaluation) and part.variable == question.variable)
    body = next(found, None)
    if body is None:
        claim = question_claim(question, ZERO)
        body = certify(claim, budget=Budget(seconds=1.0)) if isinstance(claim, IntegralValue) else None
    return body
