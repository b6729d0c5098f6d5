"""Claims about numbers, by exact one-sided limits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import partial
from typing import Any

from ..arithmetic.balls import ball, known, run
from ..arithmetic.elements import Element
from ..arithmetic.expansion import Expander, H, with_field
from ..arithmetic.program import Program
from ..arithmetic.stops import Undefined, Unsure
from ..notation.build import ZERO, add, divide, infinite, negate, number
from ..notation.tree import Diverges, DoesNotExist, Name, Node
from .claims import Checked, Equal, IntegralValue, Refuted, SameDerivative, Undecided, Verdict, stands
from .ladder import Ladder, agreement


class Infinite(Exception):
    """A limit is infinite; `args[0]` is its sign."""


class NoLimit(Exception):
    """The one-sided limits differ."""


class Values:
    """One claim for one choice of the parameters, which stay symbols near their values in what is done exactly if `symbolic`."""

    def __init__(self, claim: Equal | IntegralValue, values: Mapping[str, Fraction], deadline: float, symbolic: bool = False) -> None:
        self.claim, self.deadline, self.x, self.values = claim, deadline, claim.setting.variable, values
        self.bound = {**dict(claim.setting.bindings), **{name: number(v) for name, v in values.items()}}
        self.exact = dict(claim.setting.bindings) if symbolic else self.bound
        self.near = {name: ball(v) for name, v in values.items()} if symbolic else {}
        self.symbolic = symbolic

    def outcome(self) -> Any:
        """True for proved, a number of digits, a verdict, or None."""
        raise NotImplementedError

    def climb(self) -> Verdict:
        outcome = self.outcome()
        if outcome is None:
            return Undecided(self.claim, "needs-certificate")
        if isinstance(outcome, Refuted):
            return outcome
        return stands(self.claim, "proved") if outcome is True else stands(self.claim, "enclosed", outcome)

    def holds_for_symbols(self) -> bool:
        return type(self)(self.claim, self.values, self.deadline, symbolic=True).outcome() is True

    def refuted(self, reason: str, place: object = "", left: object = "") -> Refuted:
        return Refuted(self.claim, reason, None, str(place), str(left))

    def beside(self, body: Node, variable: str, point: Node, side: str) -> tuple[Program, int]:
        """A tree as an entry of a program in which the variable is p ± h, or ±1/h, with h → 0+."""
        h, sense = Name(H), infinite(point)
        program = Program(H, {**self.exact, variable: divide(number(sense), h) if sense else add(point, negate(h) if side == "-" else h)})
        return program, program.add(body)

    def limit(self, expander: Expander, body: Node, variable: str, point: Node, side: str) -> Element:
        """A limit as a number of the field. Raises `Infinite`, `NoLimit`, `Undefined`, or what an expansion raises."""
        ways = side or ("+" if infinite(point) else "+-")
        found = [expander.tends(expander.expansion(*self.beside(body, variable, point, way))) for way in ways]
        first, last = found[0], found[-1]
        if isinstance(first, int) or isinstance(last, int):
            raise Infinite(first) if first == last else NoLimit
        gap = expander.field.add(first, last, -1)
        if gap[0]:
            raise NoLimit if expander.field.value(gap) != 0 else Unsure
        return first

    def sides(self, left: Sequence[tuple[Node, int]], right: Node) -> tuple[int, int, bool, Any]:
        """A signed sum of trees against a tree: the sign of infinity of each (2: of both signs), whether they are equal, the gap."""

        def question(expander: Expander) -> tuple[int, int, bool, Any]:
            field = expander.field
            senses: tuple[list[int], list[int]] = ([], [])
            field.limits = partial(self.limit, expander)
            total = field.nought
            for node, sign in [*left, (right, -1)]:
                program = Program(self.x, self.exact)
                try:
                    if infinite(node):
                        raise Infinite(infinite(node))
                    total = field.add(total, field.element(program, program.add(node)), sign)
                except Infinite as stop:
                    (senses[1] if node is right else senses[0]).append(stop.args[0] * (1 if node is right else sign))
            first, second = ((s or [0])[0] if len(set(s)) < 2 else 2 for s in senses)
            return first, second, not total[0], field.value(total)

        return with_field(self.deadline, question, self.near)

    def against(self, left: Sequence[tuple[Node, int]], value: Node) -> Any:
        """What a signed sum of limits says of the claimed value."""
        endless = isinstance(value, Diverges | DoesNotExist)
        try:
            first, second, exact, gap = self.sides(left, ZERO if endless else value)
        except NoLimit:
            return True if endless else self.refuted("differs")
        except Undefined:
            return self.refuted("undefined")
        if endless or first or second:
            return True if (first if endless else first == second != 2) else self.refuted("diverges" if first else "differs")
        return True if exact else self.refuted("differs", left="off by " + gap.str(8, radius=False)) if gap != 0 else None

    def order(self, node: Node, point: Node, side: str) -> tuple[int, Any, int, int]:
        """Leading behaviour at an end: sign of a growing exponent, exponent of h, power of ln(1/h), sign (0: only a bound is known)."""

        def question(expander: Expander) -> tuple[int, Any, int, int]:
            a = expander.expansion(*self.beside(node, self.x, point, side))
            k, _, degree, sign = expander.lead(a) if a.terms else (a.limit, None, 0, 0)
            return expander.grows(a.growth), k, degree, sign

        return with_field(self.deadline, question, self.near)

    def proved(self, claim: Equal | SameDerivative) -> Ladder | None:
        """The ladder of a claim that is proved."""
        ladder = Ladder(claim, self.values, self.deadline)
        outcome = ladder.climb()
        stands = isinstance(outcome, Checked) and outcome.grade == "proved"
        return ladder if stands and (not self.symbolic or ladder.holds_for_symbols()) else None

    def numerically(self, node: Node, beyond: Any = 0) -> Any:
        """A tree that the claim says is zero, but for what lies `beyond`, by balls and quadrature."""
        program = Program(self.x, self.bound)
        gap = known(program, program.add(node), {}) + beyond
        if gap != 0:
            return self.refuted("differs", left="off by " + gap.str(8, radius=False))
        return agreement(gap) if gap.is_finite() and gap.rad() < 1e-12 else None


def unbroken(program: Program, entry: int, spot: dict[str, Any]) -> bool:
    """Whether an entry is surely continuous across a ball: finite there, and no sign in it can change (a finite sgn jumps)."""
    order = program.order(entry)
    balls = run(program, order, spot, strict=False)
    signs = (balls[program.ops[part][1]] for part in order if program.ops[part][0] == "sgn")
    return bool(balls[entry].is_finite()) and all(sign != 0 for sign in signs)
