"""“Finish the solution”: lines of a worked solution that a student can fill in, each with the numbers to judge what is filled in.

The lines are left out from the end, first the last, then the last two and so on: backward fading, after A. Renkl, R. K. Atkinson,
U. H. Maier, R. Staley, "From example study to problem solving: smooth transitions help learning", Journal of Experimental Education
70(4), 2002.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..derive.definite import inner
from ..derive.route import Line
from ..notation.build import contains, names, substitute, walk, without_constant
from ..notation.question import Question
from ..notation.tree import Derivative, Equation, Evaluation, Integral, Limit, Name, Node
from . import sampling
from .trying import SCALE, Trial, Zone

#: How many lines can be left out, and how many intervals each is tried on.
MOST, ZONES = 4, 2


@dataclass(frozen=True, slots=True)
class Blank:
    """A part of a line that is left out: the number of the line, the part of its formula, and what answers are tried on."""

    line: int
    part: Node
    trial: Trial


def blanks(question: Question, lines: Sequence[Line]) -> tuple[Blank, ...]:
    """The last lines of a solution that can be filled in, in order; none where nothing would be given."""
    found = list(_blanks(question, lines))
    return tuple(found[-MOST:]) if len(lines) > 1 else ()


def _blanks(question: Question, lines: Sequence[Line]) -> Iterator[Blank]:
    meanings: dict[str, Node] = {}
    for number, line in enumerate(lines):
        part = left_out(line)
        if part is not None and (number or line.kind == "equal"):
            trial = _trial(question, part, line, meanings)
            if trial is not None:
                yield Blank(number, part, trial)
        if line.kind == "let" and isinstance(line.left, Name):
            meanings[line.left.name] = substitute(line.shown, meanings)


def left_out(line: Line) -> Node | None:
    """The part of a line that can be left out: all of it, or what stands in its only integral, bracket or limit; None for no part."""
    if line.kind == "form" or (line.kind == "equal" and line.left is not None and not contains(line.left, (Integral, Limit))):
        return None
    shown = line.shown
    if isinstance(shown, Equation) or contains(shown, Derivative):
        return None
    held = [part for part in walk(shown) if isinstance(part, Integral | Evaluation | Limit)]
    if not held:
        return shown
    first = held[0]
    return None if len(held) > 1 else first.integrand if isinstance(first, Integral) else first.body


def _trial(question: Question, part: Node, line: Line, meanings: Mapping[str, Node]) -> Trial | None:
    x, given = question.variable, question.given.names
    if not names(part) <= {x, *meanings} | given:
        return None
    used = {name: tree for name, tree in meanings.items() if name in names(part) and name != x}
    runs = not names(part) <= given
    whole = part == line.shown or contains(line.shown, Evaluation)
    kind = "definite" if not runs else "indefinite" if whole and line.kind == "equal" and _rises(question, line) else "derivative"
    letters = tuple(sorted(given | used.keys() | ({x} if runs else set())))
    bare = Trial(kind, x, letters)
    zones = tuple(_zones(bare, question, without_constant(part), used))
    return replace(bare, zones=zones) if zones else None


def _rises(question: Question, line: Line) -> bool:
    """Whether a line is an antiderivative, which may have any constant."""
    return question.kind == "indefinite" or (question.kind == "definite" and line.kind == "equal")


def _zones(bare: Trial, question: Question, part: Node, letters: Mapping[str, Node]) -> Iterator[Zone]:
    fixed = sampling.choices(question.given, 1)[0]
    at = tuple((name, float(value)) for name, value in fixed.items())
    whole = substitute(part, letters)
    if not bare.runs:
        found = sampling.constant(whole, fixed)
        if found is not None:
            yield Zone(at, (), tuple(SCALE * value for value in found.values), found.bound)
        return
    asked = inner(question) if question.kind == "definite" else question
    for piece in sampling.components(asked, whole, fixed)[:ZONES]:
        points = sampling.points(piece, 0, 0.6)[::2]
        found = sampling.sampled(whole, question.variable, points, fixed, increments=bare.rises)
        meanings = {name: sampling.sampled(tree, question.variable, points, fixed, increments=False) for name, tree in letters.items()}
        if found is not None and all(meanings.values()):
            values = found.values if bare.rises else tuple(SCALE * value for value in found.values)
            yield Zone(at, points, values, found.bound, 0.0, tuple((name, m.values) for name, m in meanings.items() if m))
