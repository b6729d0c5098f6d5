"""The wrong answers that a page must tell from right ones, and those whose slip it can name."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite, nan

from ..kernel import Checked, check, question_claim
from ..notation.build import substitute
from ..notation.question import Question
from ..notation.tree import Evaluation, Node
from ..slips.base import Slip
from ..slips.corruptions import mutations
from ..slips.diagnose import fault_of, wrong_answers
from ..slips.floats import at
from .trying import SCALE, Trap, Trial, Zone

#: How many slips a page carries at most, and of how many points each is known by.
MOST, SHOWN = 40, 5
#: The rank of a slip that only points at a place. Where that is the whole answer it says nothing.
VAGUE = 9
#: How closely an answer must fit: in parts of the largest increment, and of the largest value. The page's script uses the same.
FIT, NOISE = 1e-9, 1e-12
#: By how much more than that a wrong answer must miss.
MARGIN = 100.0
Way = tuple[Slip | None, Node]


def wrong_ways(question: Question, answer: Node, antiderivative: Node | None) -> tuple[Way, ...]:
    """Wrong answers: first those of the slips, the most telling first, then those of a hurried hand, without a slip."""
    slips = wrong_answers(question, answer, antiderivative=antiderivative)
    return (*slips, *((None, wrong) for wrong in dict.fromkeys(mutations(answer)) if wrong != answer))


def mistaken(trial: Trial, question: Question, answer: Node, ways: Sequence[Way]) -> bool:
    """Whether a wrong answer would be taken for a right one: it fits everywhere, and the checker does not call it right.

    Two numbers that fit are one number: then the slip did no harm.
    """
    if not trial.runs:
        return False
    fitting = (wrong for _, wrong in ways if all(_may_fit(trial, zone, wrong) for zone in trial.zones))
    return any(not isinstance(check(question_claim(question, wrong), seconds=0.5), Checked) for wrong in fitting)


def traps(trial: Trial, question: Question, answer: Node, ways: Sequence[Way]) -> tuple[Trap, ...]:
    """What each slip is known by: some values in the first zone where it differs from the right answer; no two alike."""
    found: dict[tuple[int, tuple[float, ...]], Trap] = {}
    for slip, wrong in ways:
        if slip is None or len(found) == MOST:
            break
        for number, zone in enumerate(trial.zones):
            values = _values(trial, zone, wrong, SHOWN)
            if all(isfinite(v) for v in values) and (trial.words or not fits(trial, zone, values)):
                known = tuple(float(f"{value:.9g}") for value in values)
                fault = fault_of(question, wrong, answer) if "{fault}" in slip.explains else None
                if (number, known) not in found and not (slip.rank == VAGUE and fault == wrong):
                    found[number, known] = Trap(slip.id, number, known, slip.explains, slip.hint, fault)
                break
    return tuple(found.values())


def fits(trial: Trial, zone: Zone, values: Sequence[float]) -> bool:
    """Whether an answer's values are right ones in a zone, or wrong by so little that one cannot be sure."""
    if not all(isfinite(value) for value in values):
        return False
    gaps = [a - b for a, b in zip(values, zone.values, strict=False)]
    miss = max(gaps) - min(gaps) if trial.rises else max(map(abs, gaps))
    return miss <= MARGIN * (FIT * max(map(abs, zone.values)) + NOISE * max(map(abs, values)) + zone.bound)


def _may_fit(trial: Trial, zone: Zone, tree: Node) -> bool:
    """Whether a wrong answer fits in a zone; most are seen not to at the first few points."""
    return fits(trial, zone, _values(trial, zone, tree, 3)) and fits(trial, zone, _values(trial, zone, tree, len(zone.values)))


def _values(trial: Trial, zone: Zone, tree: Node, most: int) -> list[float]:
    """The first values of a wrong answer as the zone's own are given; not a number where it has none. Doubles are exact enough here."""
    found = [_value(trial, zone, tree, point) for point in (zone.points or (0.0,))[:most]]
    return [value - found[0] for value in found] if trial.rises else [SCALE * value for value in found]


def _value(trial: Trial, zone: Zone, tree: Node, point: float) -> float:
    places = dict(zone.at) | ({trial.variable: point} if trial.runs else {})
    if isinstance(tree, Evaluation):
        upper, lower = (at(substitute(tree.body, {tree.variable: end}), places) for end in (tree.upper, tree.lower))
        value = None if upper is None or lower is None else upper - lower
    else:
        value = at(tree, places)
    return nan if value is None else value
