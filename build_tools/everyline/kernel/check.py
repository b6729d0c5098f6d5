"""The ladder: refute with balls, cover the domain, prove in the exact field on every component, insist with more precision."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice, product
from time import monotonic
from typing import Any

from flint import arb, ctx

from ..notation.build import ZERO, rebuild
from ..notation.question import Given
from ..notation.tree import Absolute, Call, Integral, Node
from .claims import Claim, DerivativeOf, Equal, Refuted, Remark, SameDerivative, Setting, Undecided
from .cover import FINE, Cover, Piece, cover, ends, inside
from .derivative import NotSupported, derivative
from .field import vanishes
from .program import KINKED, Budget, Program, Undefined, Unsure, ball

PRECISION, INSIST = 128, (256, 1024, 4096)
QUICK = tuple(Fraction(n) for n in ("2", "1/2", "-1", "3", "-2", "1/4", "7/5", "-3/7", "16/7", "-29/9", "5", "37/5", "-61/6", "1/9", "-1/11", "23", "-23"))
_SEAL = object()


@dataclass(frozen=True, slots=True, init=False)
class Checked:
    """A claim that stands. Only `check` can make one.

    `grade` is `proved` or `enclosed`: both sides agree to `digits` digits at `points` points and no proof was found.
    `pieces` is the number of intervals on which the claim was looked at.
    """

    claim: Claim
    grade: str
    digits: int
    points: int
    remarks: tuple[Remark, ...]
    pieces: int

    def __init__(self, seal: object, claim: Claim, grade: str, digits: int, points: int, remarks: tuple[Remark, ...], pieces: int) -> None:
        if seal is not _SEAL:
            raise TypeError("only the checker can say that a claim stands")
        for name, value in zip(self.__slots__, (claim, grade, digits, points, remarks, pieces), strict=True):
            object.__setattr__(self, name, value)


Verdict = Checked | Refuted | Undecided


def check(claim: Claim, *, seconds: float = 2.0) -> Verdict:
    """Decide a claim within about `seconds`. Never raises for a claim made of valid trees; what is too much is `Undecided`."""
    saved, deadline = ctx.prec, monotonic() + seconds
    try:
        ctx.prec = PRECISION
        return _Check(claim, deadline).verdict()
    except NotSupported as stop:
        return Undecided(claim, "not-supported", str(stop))
    except Budget as stop:
        return Undecided(claim, "budget", str(stop))
    except (Unsure, Undefined, RecursionError, OverflowError, MemoryError, ZeroDivisionError) as stop:
        return Undecided(claim, "budget", type(stop).__name__)
    finally:
        ctx.prec = saved


def samples(given: Given) -> list[dict[str, Fraction]]:
    """Up to three admissible choices of the parameters."""
    if not given.parameters:
        return [{}]
    whole = [Fraction(n) for n in (2, 3, 5, 1, 4, -2)]
    broken = [Fraction(n) for n in ("7/5", "17/6", "1/3", "-9/5", "13/3", "-1/7", "3/4")]
    choices = product(*(whole if p.integer else broken for p in given.parameters))
    named = (dict(zip((p.name for p in given.parameters), c, strict=True)) for c in islice(choices, 5000))
    return list(islice((values for values in named if len(set(values.values())) == len(values) and _admissible(given, values)), 3))


def _admissible(given: Given, values: dict[str, Fraction]) -> bool:
    point = {name: ball(value) for name, value in values.items()}
    for condition in given.conditions:
        program = Program()
        left, right = program.add(condition.left), program.add(condition.right)
        balls = program.run(program.order(left, right), point, strict=False)
        a, b = balls[left], balls[right]
        if not {"<": a < b, "<=": a <= b, ">": a > b, ">=": a >= b, "!=": a != b}[condition.relation]:
            return False
    return True


class _Check:
    """One claim on its way up the ladder."""

    def __init__(self, claim: Claim, deadline: float) -> None:
        self.claim, self.deadline = claim, deadline
        self.setting: Setting = claim.setting
        self.variable = claim.setting.variable

    def verdict(self) -> Verdict:
        claim, x = self.claim, self.variable
        bound = dict(self.setting.bindings)
        match claim:
            case SameDerivative(left, right):
                return self.same(derivative(left, x, bound), derivative(right, x, bound), (closed(left),), closed(right))
            case DerivativeOf(function, order, answer):
                return self.same(derivative(function, x, bound, order), answer, (function,), answer)
            case Equal(left, right):
                return self.same(left, right, (), right)
        return Undecided(claim, "not-supported")

    def same(self, left: Node, right: Node, reference: tuple[Node, ...], answer: Node) -> Verdict:
        """`left` = `right` wherever the reference and `left` are defined; `answer` must be defined there too."""
        program = Program(dict(self.setting.bindings), frozenset(p.name for p in self.setting.given.parameters if p.integer))
        self.program = program
        self.left, self.right, self.answer = program.add(left), program.add(right), program.add(answer)
        self.difference = program.put("add", self.left, program.put("mul", program.put("num", Fraction(-1)), self.right))
        self.reference = (*(program.add(node) for node in reference), self.left)
        self.order = program.order(*self.reference, self.answer, self.left, self.right, self.difference)
        self.inside = frozenset(program.order(*self.reference))
        choices = samples(self.setting.given)
        if not choices:
            return Undecided(self.claim, "nowhere-defined", "no admissible parameters were found")
        unknown = {op[1]: Fraction(5, 7) for op in program.ops if op[0] == "var" and op[1].startswith("constant ")}
        grades, remarks, digits, points, pieces = set(), [], 10**9, 0, 0
        for values in choices:
            outcome = self.with_parameters({**unknown, **values})
            if not isinstance(outcome, Checked):
                return outcome
            grades.add(outcome.grade)
            remarks += [r for r in outcome.remarks if r not in remarks]
            digits, points, pieces = min(digits, outcome.digits), points + outcome.points, max(pieces, outcome.pieces)
        return Checked(_SEAL, self.claim, min(grades), digits, points, tuple(remarks), pieces)

    def with_parameters(self, values: dict[str, Fraction]) -> Verdict:
        self.values = values
        self.fixed = {name: ball(value) for name, value in values.items()}
        domain = ends(self.setting.domain, self.fixed)
        quick = self.quick(domain)
        if isinstance(quick, Refuted):
            return quick
        found = cover(self.program, self.reference, (self.answer, self.right), self.variable, domain, values, self.deadline)
        if found.undefined is not None:
            return self.undefined(found.undefined)
        if not found.pieces:
            return Undecided(self.claim, "nowhere-defined")
        return self.prove(found)

    def quick(self, domain: list[tuple[Any, Any]]) -> Refuted | None:
        """Rung 1 at the first few simple points where both sides are defined."""
        tried = 0
        for x in QUICK:
            here = ball(x)
            if any(low < here and here < high for low, high in domain):
                outcome = self.compare(x)
                if isinstance(outcome, Refuted):
                    return outcome
                tried += outcome is not None
                if tried == 2:
                    return None
        return None

    def compare(self, x: Fraction) -> Refuted | list[Any] | None:
        """The balls at a point, or the proof that both sides differ there, or nothing where the claim says nothing."""
        try:
            balls = self.program.run(self.order, {**self.fixed, self.variable: ball(x)})
        except Undefined as stop:
            return None if stop.args[0] in self.inside else self.undefined(x)
        except Unsure:
            return None
        if balls[self.difference] != 0:
            return self.refuted("differs", x, balls)
        return balls if balls[self.difference].is_finite() else None

    def refuted(self, reason: str, x: Fraction, balls: list[Any] | None = None) -> Refuted:
        left, right = (balls[self.left].str(8, radius=False), balls[self.right].str(8, radius=False)) if balls else ("", "")
        return Refuted(self.claim, reason, x, str(x), left, right)

    def undefined(self, x: Fraction) -> Refuted:
        """The answer has no value at a point where it should; with |…| in its logarithms it may be right."""
        if isinstance(self.claim, SameDerivative):
            mended = with_absolute(self.claim.right)
            if mended != self.claim.right:
                again = check(SameDerivative(self.claim.left, mended, self.setting), seconds=max(self.deadline - monotonic(), 0.05))
                if isinstance(again, Checked):
                    return self.refuted("needs-absolute-value", x)
        return self.refuted("undefined", x)

    def prove(self, found: Cover) -> Verdict:
        """Rungs 2 to 4 on every component; one is enough where nothing but poles separates them."""
        program, hints = self.program, {}
        kinked = any(program.ops[entry][0] in KINKED for entry in program.order(self.difference))
        proved, points = True, 0
        for index, piece in enumerate(found.pieces):
            balls = self.compare(piece.sample)
            if isinstance(balls, Refuted):
                return balls
            if balls is None:
                return Undecided(self.claim, "budget", f"no value at {piece.sample}")
            points += 1
            if proved and (kinked or index == 0):
                proved = self.exact(balls, hints)
        remarks = tuple(self.remarks(found))
        if proved:
            return Checked(_SEAL, self.claim, "proved", 0, points, remarks, len(found.pieces))
        return self.insist(found, remarks)

    def exact(self, balls: list[Any], hints: dict[str, int]) -> bool:
        try:
            return vanishes(self.program, self.difference, self.variable, balls, hints, self.deadline)
        except (Budget, Unsure, NotSupported):
            return False

    def insist(self, found: Cover, remarks: tuple[Remark, ...]) -> Verdict:
        """Rung 4: more points and more precision; still no difference is `enclosed`."""
        digits, points = 10**9, 0
        try:
            for bits in INSIST:
                ctx.prec = bits
                for piece in found.pieces[:6]:
                    for x in spread(piece, 4 if bits < 1000 else 1):
                        balls = self.compare(x)
                        if isinstance(balls, Refuted):
                            return balls
                        if balls is not None and bits == INSIST[0]:
                            digits, points = min(digits, agreement(balls[self.difference])), points + 1
        finally:
            ctx.prec = PRECISION
        if not points:
            return Undecided(self.claim, "budget")
        return Checked(_SEAL, self.claim, "enclosed", digits, points, remarks, len(found.pieces))

    def remarks(self, found: Cover) -> Iterator[Remark]:
        """What a derivative cannot see: jumps and removable points of the answer where the reference is continuous."""
        if len(found.pieces) > 1:
            yield Remark("several-intervals")
        if found.window:
            yield Remark("window", found.window)
        if isinstance(self.claim, SameDerivative):
            for low, high in found.between:
                kind = self.special(low, high)
                if kind:
                    yield Remark(kind, low.union(high).mid().str(6, radius=False))

    def special(self, low: Any, high: Any) -> str | None:
        """What the answer does between two neighbouring components, if the reference is continuous there."""
        if not high - low < FINE * 4:
            return None
        spot = {**self.fixed, self.variable: low.union(high)}
        program, step = self.program, ball(Fraction(1, 1024))
        try:
            wide = {**spot, self.variable: (low - step).union(high + step)}
            slope = program.run(program.order(*self.reference), wide, strict=False)[self.left]
        except (Undefined, Unsure):
            return None
        try:
            if program.run(self.order[: self.order.index(self.answer) + 1], spot, strict=False)[self.answer].is_finite():
                return None
        except (Undefined, Unsure):
            pass
        try:
            rise = [program.run(program.order(self.answer), {**self.fixed, self.variable: x})[self.answer] for x in (low - step, high + step)]
        except (Undefined, Unsure):
            return None
        area = slope * (high - low + 2 * step)
        return "jump" if rise[1] - rise[0] - area != 0 else "removable"


def agreement(difference: Any) -> int:
    """The number of decimal digits after the point to which a difference is zero."""
    return max(0, -(difference.abs_upper() + NOTHING).log().floor().unique_fmpz() * 10 // 23)


NOTHING = arb(2) ** -5000


def spread(piece: Piece, count: int) -> Iterator[Fraction]:
    """The sample of a component and some more points of it."""
    yield piece.sample
    low, high = piece.lower, piece.upper
    for _ in range(count // 2):
        low, high = inside(low, ball(piece.sample)), inside(ball(piece.sample), high)
        yield low
        yield high
        low, high = ball(low), ball(high)


def closed(node: Node) -> Node:
    """The part of a side outside its indefinite integrals, which have values of their own nowhere."""
    if isinstance(node, Integral) and node.lower is None:
        return ZERO
    return rebuild(node, closed)


def with_absolute(node: Node) -> Node:
    node = rebuild(node, with_absolute)
    return Call("ln", Absolute(node.argument)) if isinstance(node, Call) and node.function == "ln" else node
