"""Components by bisection with balls, where guards are not polynomials."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from time import monotonic
from typing import Any

from flint import arb

from ..arithmetic.balls import ball, value
from ..arithmetic.field import vanishes
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..notation.build import ONE, PI, multiply, number
from ..notation.tree import Node

#: How far out and how finely bisection looks where guards are not polynomials: coarsely where there are but poles.
WINDOW, FAR, COARSE, FINE, FINEST, MAX_BOXES = 4, 10**6, 2.0**-6, 2.0**-9, 2.0**-36, 6000


def inside(lower: Any, upper: Any) -> Fraction:
    """A short rational number between two balls, away from the middle and from round numbers."""
    low, high = float(lower.upper()), float(upper.lower())
    low = max(low, min(high, 0) - 6.5 if high < 1e300 else -6.5) if low < -1e300 else low
    high = min(high, max(low, 0) + 6.5) if high > 1e300 else high
    wanted = low + (high - low) * 0.5897
    for bound in (1, 7, 30, 1000, 10**6, 10**12) if abs(wanted) < 1e308 else ():
        guess = Fraction(wanted).limit_denominator(bound) if bound > 1 else Fraction(round(wanted * 7), 7)
        if lower < ball(guess) < upper and (bound > 1 or high - low > 1):
            return guess
    mantissa, exponent = ((lower + upper) / 2).mid().man_exp() if lower.is_finite() and upper.is_finite() else (0, 0)
    exact = Fraction(int(mantissa)) * Fraction(2) ** int(exponent)
    if lower < ball(exact) < upper:
        return exact
    raise Unsure(-1)


@dataclass(slots=True)
class Bisection:
    """Looking at an interval box by box, where guards are not polynomials. `kinks` are such guards behind which signs may change."""

    program: Program
    state: Callable[[Any], str]
    kinks: list[int]
    fixed: Mapping[str, Any]
    deadline: float
    window: str = ""
    unresolved: bool = False

    def runs(self, low: Any, high: Any) -> list[tuple[Any, Any, Fraction, str]]:
        """Runs of boxes with one verdict, from left to right, with a sample of each."""
        start, stop = float(low.mid()), float(high.mid())
        left = start if low.is_finite() else min(-WINDOW, stop - 2 * WINDOW)
        right = stop if high.is_finite() else max(WINDOW, start + 2 * WINDOW)
        boxes = self.boxes(left, right, MAX_BOXES)
        if boxes is None:
            raise Budget("too many pieces to look at")
        # Past a pole an expression goes on as the same function: only where there are kinks has one to look far out.
        while self.kinks and not low.is_finite() and left > -FAR and (more := self.boxes(8 * left, left, 60)):
            boxes, left = more + boxes, 8 * left
        while self.kinks and not high.is_finite() and right < FAR and (more := self.boxes(right, 8 * right, 60)):
            boxes, right = boxes + more, 8 * right
        if not (low.is_finite() and high.is_finite()):
            self.window = f"{left:g} … {right:g}"
        found = []
        for verdict, group in groupby(boxes, key=lambda box: box[2]):
            run = list(group)
            a, b = arb(run[0][0]), arb(run[-1][1])
            if verdict != "unsure":
                found.append((a, b, inside(a, b), verdict))
        return found

    def boxes(self, left: float, right: float, limit: int) -> list[tuple[float, float, str]] | None:
        """The boxes of an interval with their verdicts, from left to right; None if it takes too many."""
        stack, boxes, count = [(left, right)], [], 0
        while stack:
            a, b = stack.pop()
            count += 1
            if count > limit or monotonic() > self.deadline:
                return None
            box = arb((a + b) / 2, (b - a) * 0.5000001)
            verdict = self.state(box)
            width = (b - a) / max(1.0, abs(a), abs(b))
            settled = verdict != "unsure" or (width <= (FINE if self.kinks else COARSE) and self.settled(box))
            if settled or width <= FINEST:
                boxes.append((a, b, verdict))
                self.unresolved |= not settled
            else:
                middle = a + (b - a) * 0.4823  # not the half: special points stand at simple places and should not be met again
                stack += [(middle, b), (a, middle)]
        return boxes

    def value(self, entry: int, box: Any) -> Any:
        try:
            return value(self.program, entry, {**self.fixed, self.program.variable: box})
        except (Undefined, Unsure):
            return arb("nan")

    def may_vanish(self, entry: int, box: Any) -> bool:
        """Whether an entry may be zero in a box, also by the mean value theorem, which sees more near a double zero."""
        middle = box.mid()
        return bool(
            self.value(entry, box).contains(0)
            and (self.value(entry, middle) + self.value(self.program.slope(entry), box) * (box - middle)).contains(0)
        )

    def zeros(self, box: Any) -> tuple[list[int], list[int]]:
        """The kinks that may vanish in a box, and those slopes of them that may vanish there too."""
        zeros = [guard for guard in self.kinks if self.may_vanish(guard, box)]
        return zeros, [slope for slope in map(self.program.slope, zeros) if self.value(slope, box).contains(0)]

    def settled(self, box: Any) -> bool:
        """Whether signs change at one point of a box at most: at the only zero of the only guard, or all at one exactly known."""
        zeros, flat = self.zeros(box)
        return not zeros or (len(zeros) == 1 and not flat) or self.place(box) is not None

    def place(self, box: Any, *only: Node) -> Node | None:
        """The one point of a box, exactly known, at which all vanish that may: one of the places `only`, or a simple number."""
        zeros, flat = self.zeros(box)
        if any(self.value(self.program.slope(slope), box).contains(0) for slope in flat):
            return None
        return exact_place(self.program, [*zeros, *flat], box, self.deadline, *only)


def exact_place(program: Program, guards: list[int], spot: Any, deadline: float, *only: Node) -> Node | None:
    """A place at which some guards are all exactly zero: one of `only`, or a simple number or multiple of π in a ball."""
    guesses = list(only)
    for here, unit in () if only else ((spot, ONE), (spot / arb.pi(), PI)):
        guess = Fraction(float(here.mid())).limit_denominator(60)
        guesses += [multiply(number(guess), unit)] if here.overlaps(ball(guess)) else []
    return next((place for place in guesses if all(zero_at(program, guard, place, deadline) for guard in guards)), None)


def zero_at(program: Program, guard: int, place: Node, deadline: float) -> bool:
    at = Program("", {**program.bound, program.variable: place})
    try:
        entry = at.copy(program, guard)
        value(at, entry, {})
    except (Undefined, Unsure, NotSupported):
        return False
    return vanishes(at, entry, {}, {}, deadline)
