"""Limits and integrals between limits: exact one-sided limits, with the antiderivative that a claim brings as its certificate."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from ..notation.build import PI, add, divide, multiply, negate, number
from ..notation.tree import Diverges, DoesNotExist, Infinity, Integral, Interval, Name, Negative, Node
from .check import Checked, Ladder, Verdict, agreement, samples, seal
from .claims import IntegralValue, LimitValue, Refuted, SameDerivative, Setting, Undecided
from .cover import FINE, Cover, atoms, cover, ends
from .derivative import NotSupported
from .expansion import H, Expander, with_field
from .field import vanishes
from .program import Budget, Program, Undefined, Unsure, ball, integrate

#: An end that is approached: the tree of the point (or ±infinity) and the side, 1 from above and -1 from below.
End = tuple[Node, int]
MINUS_INFINITY = Negative(Infinity())
NOT_FINITE = (Infinity, Diverges, DoesNotExist)


class Values:
    """What is found out of one claim for one choice of the parameters. `outcome` is True for proved, digits, or a verdict."""

    def __init__(self, claim: IntegralValue | LimitValue, bound: dict[str, Node], deadline: float) -> None:
        self.claim, self.bound, self.deadline, self.x = claim, bound, deadline, claim.setting.variable
        value = claim.value
        self.sense = 1 if isinstance(value, Infinity) else -1 if value == MINUS_INFINITY else 0
        self.target: Node = number(0) if self.sense or isinstance(value, NOT_FINITE) else value

    def refuted(self, reason: str, place: object = "", left: object = "") -> Refuted:
        return Refuted(self.claim, reason, None, str(place), str(left))

    def near(self, node: Node, end: End) -> tuple[Program, int]:
        """A tree as an entry of a program in which the variable is p ± h, or ±1/h, with h → 0+."""
        (point, side), h = end, Name(H)
        away = divide(number(-1 if point == MINUS_INFINITY else 1), h)
        infinite = isinstance(point, Infinity) or point == MINUS_INFINITY
        program = Program({**self.bound, self.x: away if infinite else add(point, h if side > 0 else negate(h))})
        return program, program.add(node)

    def order(self, node: Node, end: End) -> tuple[int, Fraction, int, int]:
        """Leading behaviour at an end: growth of an exponential factor, exponent of h, power of ln(1/h), sign (0: only a bound is known)."""
        program, goal = self.near(node, end)

        def question(expander: Expander) -> tuple[int, Fraction, int, int]:
            a = expander.expansion(goal)
            if not a.terms:
                return expander.grows(a.growth), a.limit, 0, 0
            k, _, degree, sign = expander.lead(a)
            return expander.grows(a.growth), k, degree, sign

        return with_field(program, {}, self.deadline, question)  # type: ignore[no-any-return]

    def total(self, node: Node, limits: list[tuple[End, int]]) -> tuple[int, bool, Any]:
        """A signed sum of limits of a tree, less the claimed value.

        The sign of infinity if it is infinite (2 if of both signs), else 0; whether it is exactly zero; its ball.
        """
        parts = [(*self.near(node, end), sign) for end, sign in limits]
        plain = Program(self.bound)
        goal = plain.add(self.target)
        balls = plain.run(plain.order(goal), {}, strict=False)

        def question(expander: Expander) -> tuple[int, bool, Any]:
            field, infinite = expander.field, set()
            field.program, field.balls = plain, balls
            total = field.scale(field.element(goal), -1)
            for program, entry, sign in parts:
                expander.program, expander.known = program, {}
                limit = expander.tends(expander.expansion(entry))
                if limit.number is None:
                    infinite.add(sign * limit.infinite)
                else:
                    total = field.add(total, field.scale(limit.number, sign))
            if infinite:
                return (2 if len(infinite) == 2 else infinite.pop()), False, None
            return 0, not total[0], field.measure(total[0]) / field.measure(total[1])

        return with_field(plain, {}, self.deadline, question)  # type: ignore[no-any-return]

    def against(self, infinite: int, exact: bool, gap: Any) -> Any:
        """What a signed sum of limits says of the claimed value."""
        if isinstance(self.claim.value, Diverges | DoesNotExist):
            return True if infinite else self.refuted("differs")
        if infinite != self.sense:
            return self.refuted("diverges") if infinite else self.refuted("differs")
        return self.refuted("differs", left="off by " + gap.str(8, radius=False)) if not self.sense and gap != 0 else bool(self.sense or exact)


class LimitCheck(Values):
    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, LimitValue)
        far = isinstance(claim.point, Infinity) or claim.point == MINUS_INFINITY
        sides = [1] if far else [side for side in (1, -1) if claim.side in ("", "+" if side > 0 else "-")]
        try:
            found = [self.total(claim.function, [((claim.point, side), 1)]) for side in sides]
        except Undefined:
            return self.refuted("undefined")
        if len(found) == 2 and (found[0][0] != found[1][0] or (not found[0][0] and found[0][2] - found[1][2] != 0)):
            return True if isinstance(claim.value, DoesNotExist | Diverges) else self.refuted("differs")
        words = [self.against(*f) for f in found]
        return next((w for w in words if not isinstance(w, bool)), all(words))


class IntegralCheck(Values):
    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, IntegralValue)
        lower, upper, self.f = claim.lower, claim.upper, claim.integrand
        low, high = ends(Interval(lower, upper), self.bound)[0]
        if low > high:
            lower, upper, self.target, self.sense = upper, lower, negate(self.target), -self.sense
        elif not low < high:
            return self.against(*self.total(number(0), [])) if lower == upper else None
        self.lower, self.upper = lower, upper
        program = Program(self.bound)
        entry = program.add(self.f)
        spread = ends(Interval(lower, upper), self.bound)
        marks = self.marks(cover(program, (entry,), (), self.x, spread, self.deadline, {}), program, entry, self.f, spread[0])
        if isinstance(marks, Refuted):
            return marks
        if marks is not None:
            senses = {self.divergence(end): end for a, b in zip(marks, marks[1:], strict=False) for end in ((a, 1), (b, -1))}
            signs = {s for s in senses if s}
            if signs:
                if isinstance(claim.value, Diverges) or signs == {self.sense}:
                    return True
                end = next(end for s, end in senses.items() if s)
                return self.refuted("diverges" if end[0] in (lower, upper) else "pole", self.place(end[0]))
            if None not in senses and (isinstance(claim.value, NOT_FINITE) or self.sense):
                return self.refuted("differs")
        if isinstance(claim.certificate, Node):
            word = self.by_antiderivative(claim.certificate, spread[0])
            if word is not None:
                return word
        return self.by_quadrature(program, entry, *spread[0])

    def place(self, node: Node) -> str:
        program = Program(self.bound)
        entry = program.add(node) if not isinstance(node, Infinity) and node != MINUS_INFINITY else -1
        return "infinity" if entry < 0 else str(program.run(program.order(entry), {}, strict=False)[entry].str(8, radius=False))

    def marks(self, found: Cover, program: Program, entry: int, node: Node, spread: tuple[Any, Any]) -> Any:
        """The limits and the exact places between them where a tree (an entry) is not continuous; None if one is not found."""
        pieces, marks = found.pieces, [self.lower]
        edges = [spread[0], *(end for piece in pieces for end in (piece.lower, piece.upper)), spread[1]]
        for a, b in zip(edges[::2], edges[1::2], strict=True):
            if b - a > 4 * FINE or not pieces:
                try:
                    program.run(program.order(entry), {self.x: (a + b) / 2})
                except Undefined:
                    return self.refuted("undefined", ((a + b) / 2).str(6, radius=False))
                except Unsure:
                    pass
                return None
        for left, right in zip(pieces, pieces[1:], strict=False):
            spot = left.upper.union(right.lower)
            try:
                if program.run(program.order(entry), {self.x: spot}, strict=False)[entry].is_finite():
                    continue
            except (Undefined, Unsure):
                pass
            place = self.exact_place(node, spot)
            if place is None:
                return None
            marks.append(place)
        return [*marks, self.upper]

    def exact_place(self, node: Node, spot: Any) -> Node | None:
        """A simple number or multiple of π in a ball at which a guard of a tree is exactly zero."""
        for scale, unit in ((spot, number(1)), (spot / spot.pi(), PI)):
            guess = Fraction(float(scale.mid())).limit_denominator(40)
            if scale.overlaps(ball(guess)):
                place = multiply(number(guess), unit)
                program = Program({**self.bound, self.x: place})
                for guard in atoms(program, program.order(program.add(node))):
                    try:
                        balls = program.run(program.order(guard), {}, strict=False)
                        if vanishes(program, guard, balls, {}, self.deadline):
                            return place
                    except (Undefined, Unsure, Budget, NotSupported):
                        continue
        return None

    def divergence(self, end: End) -> int | None:
        """Whether the integral diverges at an end: the sign of its infinity, 0 if it converges there, None if unknown."""
        try:
            growth, k, degree, sign = self.order(self.f, end)
        except (Budget, NotSupported, Undefined):
            return None
        # ∫ h^k dh converges at 0 for k > -1; at infinity, with x = 1/h, for k > 1; on the edge with a power of ln(1/h) below -1.
        edge = 1 if isinstance(end[0], Infinity) or end[0] == MINUS_INFINITY else -1
        if growth < 0 or (growth == 0 and (k > edge or (sign and k == edge and degree < -1))):
            return 0
        return sign or None

    def by_antiderivative(self, antiderivative: Node, spread: tuple[Any, Any]) -> Any:
        """The value from one-sided limits of an antiderivative at every place where it is not continuous; None if it does not serve."""
        setting = Setting(self.x, Interval(self.lower, self.upper), self.claim.setting.given)
        ladder = Ladder(SameDerivative(Integral(self.f, self.x), antiderivative, setting), self.bound, self.deadline)
        if not isinstance(ladder.climb(), Checked) or ladder.found is None:
            return None
        marks = self.marks(ladder.found, ladder.program, ladder.answer, antiderivative, spread)
        if marks is None or isinstance(marks, Refuted):
            return None
        limits = [limit for a, b in zip(marks, marks[1:], strict=False) for limit in (((b, -1), 1), ((a, 1), -1))]
        try:
            word = self.against(*self.total(antiderivative, limits))
        except (Budget, NotSupported, Undefined):
            return None
        return word or None

    def by_quadrature(self, program: Program, entry: int, low: Any, high: Any) -> Any:
        if not (low.is_finite() and high.is_finite()) or self.sense or isinstance(self.claim.value, NOT_FINITE):
            return None
        plain = Program(self.bound)
        goal = plain.add(self.target)
        gap = integrate(program, entry, self.x, low, high) - plain.run(plain.order(goal), {}, strict=False)[goal]
        if gap != 0:
            return self.refuted("differs", left="off by " + gap.str(8, radius=False))
        return agreement(gap) if gap.is_finite() and gap.rad() < 1e-12 else None


def decide_value(claim: IntegralValue | LimitValue, deadline: float) -> Verdict:
    """Every admissible choice of the parameters that is tried must give the claimed value."""
    kind = LimitCheck if isinstance(claim, LimitValue) else IntegralCheck
    outcomes = []
    for values in samples(claim.setting.given):
        bound = {**dict(claim.setting.bindings), **{name: number(value) for name, value in values.items()}}
        outcomes.append(kind(claim, bound, deadline).outcome())
        if outcomes[-1] is None or outcomes[-1] is False:
            return Undecided(claim, "needs-certificate")
        if isinstance(outcomes[-1], Refuted | Undecided):
            return outcomes[-1]
    if not outcomes:
        return Undecided(claim, "nowhere-defined", "no admissible parameters were found")
    proved = all(o is True for o in outcomes) and not claim.setting.given.parameters
    digits = min((o for o in outcomes if o is not True), default=0)
    return seal(claim, "proved" if proved else "enclosed", 0 if proved else digits, len(outcomes), (), 1)
