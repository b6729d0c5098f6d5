"""Integrals between limits: their value from an antiderivative that the claim brings, that they diverge from their integrand alone."""

from __future__ import annotations

from contextlib import suppress
from itertools import pairwise
from typing import Any

from ..arithmetic.balls import value
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..notation.build import ZERO, add, negate
from ..notation.tree import Diverges, DoesNotExist, Integral, Interval, Limit, Node
from .claims import IntegralValue, Refuted, SameDerivative, Setting
from .cover import cover, ends, infinite
from .guards import signs
from .values import Values, unbroken


def endless(node: Node) -> bool:
    return isinstance(node, Diverges | DoesNotExist) or infinite(node) != 0


class IntegralCheck(Values):
    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, IntegralValue)
        self.lower, self.upper, self.f, self.target = claim.lower, claim.upper, claim.integrand, claim.value
        low, high = (end.ball for end in ends(Interval(self.lower, self.upper), self.bound)[0])
        if low > high:
            self.lower, self.upper, low, high = self.upper, self.lower, high, low
            self.target = self.target if isinstance(self.target, Diverges | DoesNotExist) else negate(self.target)
        elif not low < high:
            return self.against([(ZERO, 1)], claim.value) if self.lower == self.upper else None
        program = Program(self.x, self.bound)
        entry = program.add(self.f)
        with suppress(NotSupported, Undefined, Unsure):  # the value may be written with limits
            never = -1 not in signs(program, program.order(entry))[entry]
            if never and not endless(self.target) and value(program, program.add(self.target), {}) < 0:
                return self.refuted("differs")
        marks = self.marks(program, entry)
        if isinstance(marks, Refuted):
            return marks
        word = None if marks is None else self.convergence(marks)
        if word is None and isinstance(claim.certificate, Node):
            word = self.by_antiderivative(claim.certificate)
        if word is not None:
            return word
        proper = low.is_finite() and high.is_finite() and not endless(self.target)
        return self.numerically(add(Integral(self.f, self.x, self.lower, self.upper), negate(self.target))) if proper else None

    def marks(self, program: Program, entry: int) -> Any:
        """The limits and the exact places between them where an entry is not continuous; None if one of them is not found."""
        domain = ends(Interval(self.lower, self.upper), self.bound)
        found, marks = cover(program, (entry,), (), entry, domain, {}, self.deadline, every=True), [self.lower]
        if found.outside is not None:
            return self.refuted("undefined", found.outside)
        for mark in found.between:
            try:
                if unbroken(program, entry, {self.x: mark.ball}):
                    continue
            except (Undefined, Unsure):
                pass
            # One that may move with the parameters is not known exactly.
            if mark.exact is None or self.symbolic:
                return None
            marks.append(mark.exact)
        return None if found.unresolved or found.window or not found.pieces else [*marks, self.upper]

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
            here = ends(Interval(point, point), self.bound)[0][0].ball
            place = here.str(8, radius=False) if here.is_finite() else "infinity" if here > 0 else "-infinity"
            return self.refuted("diverges" if point in (self.lower, self.upper) else "pole", place)
        return self.refuted("differs") if endless(self.target) and None not in found else None

    def by_antiderivative(self, antiderivative: Node) -> Any:
        """The value from one-sided limits of an antiderivative at every place where it is not continuous; None if it does not serve."""
        setting = Setting(self.x, Interval(self.lower, self.upper), self.claim.setting.given)
        try:
            ladder = self.proved(SameDerivative(Integral(self.f, self.x), antiderivative, setting))
            marks = self.marks(ladder.program, ladder.answer) if ladder else None
            if marks is None or isinstance(marks, Refuted):
                return None
            rises = ((Limit(antiderivative, self.x, b, "-"), Limit(antiderivative, self.x, a, "+")) for a, b in pairwise(marks))
            limits = [limit for top, bottom in rises for limit in ((top, 1), (bottom, -1))]
            word = self.against(limits, self.target)
        except (Budget, NotSupported):
            return None
        return None if isinstance(word, Refuted) and word.reason == "undefined" else word
