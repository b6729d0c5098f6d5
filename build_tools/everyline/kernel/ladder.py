"""The ladder for two equal functions: refute with balls, cover the domain, prove in the exact field, insist with more precision."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from flint import arb, ctx

from ..arithmetic.balls import ball, run
from ..arithmetic.field import vanishes
from ..arithmetic.program import Program
from ..arithmetic.stops import NotSupported, Undefined, Unsure
from ..notation.build import number, walk
from ..notation.tree import Derivative
from .claims import Equal, Refuted, Remark, SameDerivative, Undecided, Verdict, stands
from .cover import Cover, cover, ends, inside
from .zeros import Search

PRECISION, INSIST, LEAST_DIGITS = 128, (256, 1024, 4096), 20
#: Where both sides are compared first, simple points before others, because people are shown where a key fails.
QUICK = tuple(map(Fraction, ("2", "1/2", "-1", "3", "-2", "1/4", "7/5", "-3/7", "16/7", "-29/9", "5", "37/5", "1/9", "-1/11", "23", "-23")))
NOTHING = arb(2) ** -5000


class Ladder:
    """One claim of two equal functions, for one choice of the parameters (none: they stay symbols)."""

    def __init__(self, claim: Equal | SameDerivative, values: Mapping[str, Fraction], deadline: float) -> None:
        self.claim, self.values, self.deadline, self.x = claim, values, deadline, claim.setting.variable
        self.bound = {**dict(claim.setting.bindings), **{name: number(v) for name, v in values.items()}}
        program = self.program = Program(self.x, self.bound)
        reference, self.answer = program.add(claim.left), program.add(claim.right)
        self.left, self.right = reference, self.answer
        if isinstance(claim, SameDerivative):
            self.left, self.right = program.slope(reference), program.slope(self.answer)
        # Where what is differentiated has no value nothing is said.
        derivatives = [part for part in walk(claim.left) if isinstance(part, Derivative) and part.variable == self.x]
        differentiated = [program.add(part.body) for part in derivatives]
        self.difference = program.less(self.left, self.right)
        self.reference = (reference, *differentiated, self.left)
        self.order = program.order(*self.reference, self.answer, self.right, self.difference)
        self.inside = frozenset(program.order(*self.reference))
        compared = program.order(self.difference)
        if any(program.ops[entry][0] == "primitive" for entry in compared):
            raise NotSupported("an integral without limits inside an expression")
        # Constants of integration have any value: one is as good as another.
        self.fixed = {op[1]: ball(Fraction(5, 7)) for op in program.ops if op[0] == "var" and op[1].startswith("constant ")}
        domain = ends(claim.setting.domain, self.bound) if values or not claim.setting.given.parameters else []
        self.domain = [(low, high) for low, high in domain if low.ball < high.ball]
        self.hints: dict[str, Any] = {}
        self.found = Cover()

    def climb(self) -> Verdict:
        quick = self.quick()
        if quick:
            return quick
        asked = self.reference[:-1], (self.answer,), self.difference
        found = self.found = cover(self.program, *asked, self.domain, self.fixed, self.deadline)
        if found.undefined is not None:
            return self.refuted("undefined", found.undefined)
        if not found.pieces:
            return Undecided(self.claim, "nowhere-defined")
        proved = not found.unresolved
        for index, (_, _, sample) in enumerate(found.pieces):
            outcome = self.compare(sample)
            if isinstance(outcome, Refuted):
                return outcome
            # Nothing but poles between two components: the functions are the same on both, and one proof is enough.
            proved = proved and (outcome is not None and self.exact(sample) if found.kinked or index == 0 else True)
        remarks = tuple(self.remarks(found))
        return stands(self.claim, "proved", 0, len(found.pieces), remarks) if proved else self.insist(found, remarks)

    def quick(self) -> Refuted | None:
        """Rung 1 at the first two simple points where both sides are defined."""
        tried = 0
        for x in QUICK:
            if tried < 2 and any(low.ball < ball(x) and ball(x) < high.ball for low, high in self.domain):
                outcome = self.compare(x)
                if isinstance(outcome, Refuted):
                    return outcome
                tried += outcome is not None
        return None

    def compare(self, x: Fraction) -> Refuted | list[Any] | None:
        """The balls at a point, or the proof that both sides differ there, or nothing where the claim says nothing."""
        try:
            balls = run(self.program, self.order, {**self.fixed, self.x: ball(x)})
        except Undefined as stop:
            return None if stop.args[0] in self.inside else self.refuted("undefined", x)
        except Unsure:
            return None
        if balls[self.difference] != 0:
            return self.refuted("differs", x, *(balls[side].str(8, radius=False) for side in (self.left, self.right)))
        return balls if balls[self.difference].is_finite() else None

    def refuted(self, reason: str, x: Fraction, left: str = "", right: str = "") -> Refuted:
        return Refuted(self.claim, reason, x, str(x), left, right)

    def exact(self, x: Fraction) -> bool:
        """Rung 2 at one point."""
        return vanishes(self.program, self.difference, {**self.fixed, self.x: ball(x)}, self.hints, self.deadline)

    def holds_for_symbols(self) -> bool:
        """Rung 2 with symbols for the parameters, near their values, at simple points of the variable."""
        symbolic = Ladder(self.claim, {}, self.deadline)
        symbolic.fixed.update({name: ball(v) for name, v in self.values.items()})
        found = [x for x in QUICK if isinstance(symbolic.compare(x), list)]
        return bool(found) and all(symbolic.exact(x) for x in found[:: max(1, len(found) // 3)])

    def insist(self, found: Cover, remarks: tuple[Remark, ...]) -> Verdict:
        """Rung 4: more points and more precision; still no difference is `enclosed`."""
        digits, points = 10**9, 0
        for bits in INSIST:
            with ctx.workprec(bits):
                for low, high, sample in found.pieces[:6]:
                    for x in (sample, inside(low, ball(sample)), inside(ball(sample), high)):
                        balls = self.compare(x)
                        if isinstance(balls, Refuted):
                            return balls
                        if balls is not None and bits == INSIST[0]:
                            digits, points = min(digits, agreement(balls[self.difference])), points + 1
        if digits < LEAST_DIGITS or not points:
            return Undecided(self.claim, "budget", "too few digits can be compared")
        return stands(self.claim, "enclosed", digits, points, remarks)

    def remarks(self, found: Cover) -> Iterator[Remark]:
        """What a derivative cannot see: jumps and removable points of the answer where the reference is continuous."""
        if len(found.pieces) > 1:
            yield Remark("several-intervals")
        if found.window:
            yield Remark("window", found.window)
        for mark in found.between if isinstance(self.claim, SameDerivative) else ():
            kind = self.special(mark.ball)
            if kind:
                yield Remark(kind, mark.ball.mid().str(6, radius=False))

    def special(self, spot: Any) -> str | None:
        """What the answer does at a point between two components, if the reference is continuous there."""
        near, search = spot + arb(0, 2.0**-10), Search(self.program, self.fixed, self.deadline)
        low, high = near.lower(), near.upper()
        rise = search.value(self.answer, high) - search.value(self.answer, low) - search.value(self.left, near) * (high - low)
        if rise.is_finite():
            return "jump" if rise != 0 else None if search.value(self.answer, spot).is_finite() else "removable"
        return None


def agreement(difference: Any) -> int:
    """The number of decimal digits after the point to which a difference is zero."""
    return int(max(0, -(difference.abs_upper() + NOTHING).log().floor().unique_fmpz() * 10 // 23))
