"""Integrals between limits: their value from an antiderivative that the claim brings, that they diverge from their integrand alone."""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction
from itertools import pairwise
from typing import Any

from ..arithmetic.balls import ball, run, value
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..notation.build import ZERO, add, negate
from ..notation.tree import Diverges, DoesNotExist, Integral, Interval, Limit, Node
from .bisection import Bisection
from .claims import IntegralValue, Refuted, SameDerivative, Setting
from .cover import Cover, atoms, cover, ends, infinite, signs
from .values import Values, unbroken


def endless(node: Node) -> bool:
    return isinstance(node, Diverges | DoesNotExist) or infinite(node) != 0


class IntegralCheck(Values):
    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, IntegralValue)
        self.lower, self.upper, self.f, self.target = claim.lower, claim.upper, claim.integrand, claim.value
        low, high = ends(Interval(self.lower, self.upper), self.bound)[0]
        if low > high:
            self.lower, self.upper, low, high = self.upper, self.lower, high, low
            self.target = self.target if isinstance(self.target, Diverges | DoesNotExist) else negate(self.target)
        elif not low < high:
            return self.against([(ZERO, 1)], claim.value) if self.lower == self.upper else None
        program = Program(self.x, self.bound)
        entry = program.add(self.f)
        with suppress(NotSupported, Undefined, Unsure):  # the value may be written with limits
            if not endless(self.target) and value(program, program.add(self.target), {}) < 0 <= signs(program, program.order(entry))[entry]:
                return self.refuted("differs")
        marks = self.marks(cover(program, (entry,), (), entry, [(low, high)], {}, self.deadline), program, entry, low, high)
        if isinstance(marks, Refuted):
            return marks
        word = None if marks is None else self.convergence(marks)
        if word is None and isinstance(claim.certificate, Node):
            word = self.by_antiderivative(claim.certificate, low, high)
        if word is not None:
            return word
        proper = low.is_finite() and high.is_finite() and not endless(self.target)
        return self.numerically(add(Integral(self.f, self.x, self.lower, self.upper), negate(self.target))) if proper else None

    def marks(self, found: Cover, program: Program, entry: int, low: Any, high: Any) -> Any:
        """The limits and the exact places between them where an entry is not continuous; None if one of them is not found."""
        order, marks = program.order(entry), [self.lower]
        search = Bisection(program, str, list(atoms(program, order)), {}, self.deadline)
        edges = [low, *(end for piece in found.pieces for end in (piece.lower, piece.upper)), high]
        for a, b in zip(edges[::2], edges[1::2], strict=True):
            end = (self.lower,) if a is low else (self.upper,) if b is high else ()
            touching = found.pieces and a.overlaps(b)
            if touching and end:
                continue
            spot, inner = a.union(b), a + (b - a) * ball(Fraction(3, 8))
            try:
                if not touching:
                    run(program, order, {self.x: inner})
            except Undefined:
                return self.refuted("undefined", inner.str(6, radius=False))
            except Unsure:
                pass
            try:
                if unbroken(program, entry, {self.x: spot}):
                    continue
            except (Undefined, Unsure):
                pass
            # Nothing but this one place may be hidden in the gap. One that may move with the parameters is not known exactly.
            place = search.place(spot, *end)
            if place is None or (self.symbolic and not end):
                return None
            marks += () if end else (place,)
        return [*marks, self.upper]

    def convergence(self, marks: list[Node]) -> Any:
        """What the integrand's behaviour at the marks says of the claim: it diverges, or it converges and should not."""
        found: dict[int | None, Node] = {}
        for a, b in pairwise(marks):
            for point, side in ((a, "+"), (b, "-")):
                try:
                    growth, k, degree, sign = self.order(self.f, point, side)
                except (Budget, NotSupported, Undefined):
                    found[None] = point
                    continue
                # ∫ h^k dh converges at 0 for k > -1; at infinity, with x = 1/h, for k > 1; on the edge with a power of ln(1/h) below -1.
                edge = 1 if infinite(point) else -1
                converges = growth < 0 or (growth == 0 and (k > edge or (sign and k == edge and degree < -1)))
                found[0 if converges else sign or None] = point
        senses = {sense for sense in found if sense}
        if senses:
            if isinstance(self.target, Diverges) or senses == {infinite(self.target)}:
                return True
            point = found[senses.pop()]
            here = ends(Interval(point, point), self.bound)[0][0]
            place = here.str(8, radius=False) if here.is_finite() else "infinity" if here > 0 else "-infinity"
            return self.refuted("diverges" if point in (self.lower, self.upper) else "pole", place)
        return self.refuted("differs") if endless(self.target) and None not in found else None

    def by_antiderivative(self, antiderivative: Node, low: Any, high: Any) -> Any:
        """The value from one-sided limits of an antiderivative at every place where it is not continuous; None if it does not serve."""
        setting = Setting(self.x, Interval(self.lower, self.upper), self.claim.setting.given)
        try:
            ladder = self.proved(SameDerivative(Integral(self.f, self.x), antiderivative, setting))
            marks = self.marks(ladder.found, ladder.program, ladder.answer, low, high) if ladder else None
            if marks is None or isinstance(marks, Refuted):
                return None
            rises = ((Limit(antiderivative, self.x, b, "-"), Limit(antiderivative, self.x, a, "+")) for a, b in pairwise(marks))
            limits = [limit for top, bottom in rises for limit in ((top, 1), (bottom, -1))]
            word = self.against(limits, self.target)
        except (Budget, NotSupported):
            return None
        return None if isinstance(word, Refuted) and word.reason == "undefined" else word
