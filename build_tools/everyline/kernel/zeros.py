"""Where an entry of a program may be zero on an open interval: its zeros one by one, by bisection with balls."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from math import inf
from time import process_time
from typing import Any

from flint import arb

from ..arithmetic.balls import ball, known, value
from ..arithmetic.field import vanishes
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..notation.build import ONE, PI, multiply, number
from ..notation.tree import Node
from .guards import atoms

#: How far out is looked (first over a period of sin(x/2)), how finely, and in how many boxes.
REACHES, COARSE, FINE, FINEST, MAX_BOXES, FEW = (6.5, 60.0, 10.0**3, 10.0**6), 2.0**-6, 2.0**-9, 2.0**-36, 6000, 300
#: How many derivatives are looked at to see that an entry keeps its sign.
KEEPS = 4


@dataclass(frozen=True, slots=True)
class Mark:
    """A point, as a ball (wide where it is not known better), and exactly where it is known."""

    ball: Any
    exact: Node | None = None


@dataclass(slots=True)
class Search:
    """The search for the zeros of entries, one after the other. `known`: those that have none between the marks, however far out."""

    program: Program
    fixed: Mapping[str, Any]
    deadline: float
    known: set[int] = field(default_factory=set)
    unresolved: bool = False

    def value(self, entry: int, box: Any) -> Any:
        return known(self.program, entry, {**self.fixed, self.program.variable: box})

    def zeros(self, atom: int, low: Mark, high: Mark, kink: bool) -> tuple[list[Mark], float, float]:
        """Marks that hold all zeros between two marks, and how far they do so: to infinity, or to the end of the window.

        Of a kink they must be zeros one by one; else it is enough that nothing else is zero.
        """
        start, stop = float(low.ball.mid()), float(high.ball.mid())
        result = None
        for reach in REACHES if kink else REACHES[:1]:
            left = start if low.ball.is_finite() else min(-reach, stop - 2 * reach)
            right = stop if high.ball.is_finite() else max(reach, start + 2 * reach)
            found = self.boxes(atom, left, right, low, high, kink, MAX_BOXES if result is None else FEW)
            if found is None:
                break
            kept = [end.ball.is_finite() or self.keeps(atom, arb(edge), end, KEEPS) for edge, end in ((left, low), (right, high))]
            result = found, -inf if kept[0] else left, inf if kept[1] else right
            if all(kept):
                break
        if result is None:
            raise Budget("too many pieces to look at")
        return result

    def boxes(self, atom: int, left: float, right: float, low: Mark, high: Mark, kink: bool, limit: int) -> list[Mark] | None:
        """The zeros between two numbers; None if they take too many boxes."""
        stack, found, slope = [(left, right)], [], self.program.slope(atom)
        while stack:
            a, b = stack.pop()
            limit -= 1
            if limit < 0 or process_time() > self.deadline:
                return None
            ends = [end for here, end in ((a, low), (b, high)) if end.ball.is_finite() and here == float(end.ball.mid())]
            box = arb(a).union(arb(b))
            for end in ends:
                box = box.union(end.ball)
            if self.value(atom, box) != 0:
                continue
            if len(ends) == 1 and self.keeps(atom, arb(b if ends[0] is low else a), ends[0], KEEPS):
                continue
            width, single = (b - a) / max(1.0, abs(a), abs(b)), False
            if not ends and self.value(slope, box) != 0:
                across = self.value(atom, arb(a)) * self.value(atom, arb(b))
                if across > 0:
                    continue
                single = bool(across < 0)
            if single and kink and width <= FINE:
                for _ in range(6):  # Newton's method with balls
                    middle = box.mid()
                    box = box.intersection(middle - self.value(atom, middle) / self.value(slope, box))
                found.append(Mark(box, self.guess(box, atom)))
            elif not kink and width <= COARSE:
                found.append(Mark(box))
            elif width <= FINEST:
                # Past a double zero the sign is the same if there is only one of it.
                double = not ends and self.value(self.program.slope(slope), box) != 0
                found.append(Mark(box, self.guess(box, atom, slope) if double else None))
                self.unresolved |= found[-1].exact is None
            else:
                cut = a + (b - a) * 0.4823  # not the half: special points stand at simple places and should not be met again
                stack += [(cut, b), (a, cut)]
        return found

    def keeps(self, entry: int, edge: Any, end: Mark, depth: int) -> bool:
        """Whether an entry is nowhere zero from a number on up to a mark, the mark itself left out.

        So it is if it moves away from zero towards the mark or is zero at it exactly, and its slope keeps its sign.
        """
        side = 1 if end.ball.mid() > edge else -1
        for atom in atoms(self.program, [entry]):
            way = edge.union(end.ball)
            if atom in self.known or self.value(atom, way) != 0:
                continue
            slope = self.program.slope(atom)
            away, steady = self.value(atom, edge) * self.value(slope, edge) * side, self.value(slope, way)
            if not away > 0 and not (away < 0 and end.exact is not None and self.zero_at(atom, end.exact)):
                return False
            if not (away > 0 and (steady >= 0 or steady <= 0)) and (not depth or not self.keeps(slope, edge, end, depth - 1)):
                return False
        return True

    def guess(self, spot: Any, *entries: int) -> Node | None:
        """A simple number or multiple of π in a ball at which some entries are all exactly zero."""
        for here, unit in ((spot, ONE), (spot / arb.pi(), PI)):
            simple = Fraction(float(here.mid())).limit_denominator(60)
            place = multiply(number(simple), unit)
            if here.overlaps(ball(simple)) and all(self.zero_at(entry, place) for entry in entries):
                return place
        return None

    def zero_at(self, entry: int, place: Node) -> bool:
        at = Program("", {**self.program.bound, self.program.variable: place})
        try:
            here = at.copy(self.program, entry)
            value(at, here, {})
        except (Undefined, Unsure, NotSupported):
            return False
        return vanishes(at, here, {}, {}, self.deadline)

    def repeats(self, entries: Iterable[int]) -> bool:
        """Whether some entries are made of sines and cosines of whole multiples of x/2, so that they repeat after 4π."""
        needed = set(entries)
        for entry in reversed(self.program.order(*needed)):
            op = self.program.ops[entry]
            if entry in needed and op[0] in ("sin", "cos"):
                turns = self.program.exact(self.program.slope(op[1]))
                if turns is None or turns.q > 2:
                    return False
            elif entry in needed and op == ("var", self.program.variable):
                return False
            elif entry in needed:
                needed.update(self.program.parts(entry))
        return True
