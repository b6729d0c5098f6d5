"""The ladder: refute with balls, cover the domain, prove in the exact field on every component, insist with more precision."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice, product
from time import monotonic
from typing import Any

from flint import arb, ctx

from ..notation.build import number, rebuild, walk
from ..notation.question import Given, Question
from ..notation.tree import Absolute, Call, Derivative, Integral, Limit, Node
from .claims import Claim, DerivativeOf, Equal, IntegralValue, LimitValue, Refuted, Remark, SameDerivative, Setting, Undecided
from .cover import Cover, Piece, cover, ends, inside
from .field import vanishes
from .program import KINKED, Budget, NotSupported, Program, Undefined, Unsure, ball

PRECISION, INSIST, LEAST_DIGITS = 128, (256, 1024, 4096), 20
#: Where both sides are compared first, simple points before others, because people are shown where a key fails.
QUICK = tuple(
    map(Fraction, ("2", "1/2", "-1", "3", "-2", "1/4", "7/5", "-3/7", "16/7", "-29/9", "5", "37/5", "-61/6", "1/9", "-1/11", "23", "-23"))
)
NOTHING = arb(2) ** -5000
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


def seal(claim: Claim, grade: str, digits: int, points: int, remarks: tuple[Remark, ...], pieces: int) -> Checked:
    return Checked(_SEAL, claim, grade, digits, points, remarks, pieces)


def check(claim: Claim, *, seconds: float = 2.0) -> Verdict:
    """Decide a claim within about `seconds`. Never raises for a claim made of valid trees; what is too much is `Undecided`."""
    saved, deadline = ctx.prec, monotonic() + seconds
    try:
        ctx.prec = PRECISION
        return _decide(claim, deadline)
    except NotSupported as stop:
        return Undecided(claim, "not-supported", str(stop))
    except Budget as stop:
        return Undecided(claim, "budget", str(stop))
    except Exception as stop:
        # Whatever else goes wrong inside can only cost a verdict, never make one.
        return Undecided(claim, "budget", type(stop).__name__)
    finally:
        ctx.prec = saved


def _decide(claim: Claim, deadline: float) -> Verdict:
    if isinstance(claim, IntegralValue | LimitValue) or (isinstance(claim, Equal) and any(map(has_values, (claim.left, claim.right)))):
        from .values import decide_value

        return decide_value(claim, deadline)
    choices = samples(claim.setting.given)
    outcomes: list[Checked] = []
    for values in choices:
        outcome = Ladder(claim, {name: number(value) for name, value in values.items()}, deadline).climb()
        if not isinstance(outcome, Checked) or not values:
            return outcome
        outcomes.append(outcome)
    if not outcomes:
        return Undecided(claim, "nowhere-defined", "no admissible parameters were found")
    # Every instance stands. It is proved for symbols as well if the exact field says so at the points of the instances.
    symbolic = Ladder(claim, {}, deadline)
    proved = all(o.grade == "proved" for o in outcomes) and all(
        symbolic.proves({k: ball(v) for k, v in values.items()}) for values in choices
    )
    last = outcomes[-1]
    return seal(claim, "proved" if proved else "enclosed", last.digits, last.points, last.remarks, last.pieces)


def has_values(node: Node) -> bool:
    """Whether a tree holds limits or integrals with limits."""
    return any(isinstance(part, Limit) or (isinstance(part, Integral) and part.lower is not None) for part in walk(node))


def samples(given: Given) -> list[dict[str, Fraction]]:
    """Up to five admissible choices of the parameters."""
    whole = [Fraction(n) for n in (2, 3, -2, 5, 1, -3)]
    broken = [Fraction(n) for n in ("7/5", "-9/5", "17/6", "-1/7", "13/3", "1/3", "-4")]
    choices = product(*(whole if p.integer else broken for p in given.parameters))
    named = (dict(zip((p.name for p in given.parameters), c, strict=True)) for c in islice(choices, 2500))
    found = [values for values in named if len(set(values.values())) == len(values) and _admissible(given, values)]
    # Spread over all of them, so that signs and orders of size are met in many ways.
    return [found[k * len(found) * 618 // 1000 % len(found)] for k in range(min(5, len(found)))]


def _admissible(given: Given, values: dict[str, Fraction]) -> bool:
    program = Program("", {name: number(value) for name, value in values.items()})
    for condition in given.conditions:
        left, right = program.add(condition.left), program.add(condition.right)
        balls = program.run(program.order(left, right), {}, strict=False)
        a, b = balls[left], balls[right]
        if not {"<": a < b, "<=": a <= b, ">": a > b, ">=": a >= b, "!=": a != b}[condition.relation]:
            return False
    return True


class Ladder:
    """One claim of two equal functions, for one choice of the parameters (none: they stay symbols)."""

    def __init__(self, claim: Equal | SameDerivative | DerivativeOf, values: dict[str, Node], deadline: float) -> None:
        self.claim, self.deadline, self.x = claim, deadline, claim.setting.variable
        self.bound = {**dict(claim.setting.bindings), **values}
        program = self.program = Program(self.x, self.bound)
        match claim:
            case SameDerivative(f, g):
                reference, self.answer = program.add(f), program.add(g)
                self.left, self.right = program.slope(reference), program.slope(self.answer)
            case DerivativeOf(f, order, answer):
                reference, self.answer = program.add(f), program.add(answer)
                self.left, self.right = program.add(Derivative(f, self.x, order)), self.answer
            case Equal(f, g):
                self.left, self.right = reference, self.answer = program.add(f), program.add(g)
        self.difference = program.less(self.left, self.right)
        self.reference = (reference, self.left)
        self.order = program.order(*self.reference, self.answer, self.right, self.difference)
        self.inside = frozenset(program.order(*self.reference))
        compared = program.order(self.difference)
        if any(program.ops[entry][0] == "primitive" for entry in compared):
            raise NotSupported("an integral without limits inside an expression")
        # Past a pole it is the same function, except behind an arctangent.
        self.kinked = any(
            program.ops[e][0] in KINKED or (program.ops[e][0] == "arctan" and any(program.ops[i][0] == "div" for i in program.order(e)))
            for e in compared
        )
        # Constants of integration have any value: one is as good as another.
        self.fixed = {op[1]: ball(Fraction(5, 7)) for op in program.ops if op[0] == "var" and op[1].startswith("constant ")}
        self.domain = ends(claim.setting.domain, self.bound) if values or not claim.setting.given.parameters else []
        self.hints: dict[str, Any] = {}
        self.found = Cover()

    def climb(self) -> Verdict:
        quick = self.quick()
        if quick:
            return quick
        found = self.found = cover(
            self.program, self.reference, (self.answer, self.right), self.difference, self.domain, self.fixed, self.deadline
        )
        if found.undefined is not None:
            return self.undefined(found.undefined)
        if not found.pieces:
            return Undecided(self.claim, "nowhere-defined")
        proved = not found.unresolved
        for index, piece in enumerate(found.pieces):
            outcome = self.compare(piece.sample)
            if isinstance(outcome, Refuted):
                return outcome
            # Nothing but poles between two components: the functions are the same on both, and one proof is enough.
            proved = proved and (outcome is not None and self.exact(piece.sample) if self.kinked or index == 0 else True)
        remarks = tuple(self.remarks(found))
        if proved:
            return seal(self.claim, "proved", 0, len(found.pieces), remarks, len(found.pieces))
        return self.insist(found, remarks)

    def quick(self) -> Refuted | None:
        """Rung 1 at the first two simple points where both sides are defined."""
        tried = 0
        for x in QUICK:
            if tried < 2 and any(low < ball(x) and ball(x) < high for low, high in self.domain):
                outcome = self.compare(x)
                if isinstance(outcome, Refuted):
                    return outcome
                tried += outcome is not None
        return None

    def compare(self, x: Fraction) -> Refuted | list[Any] | None:
        """The balls at a point, or the proof that both sides differ there, or nothing where the claim says nothing."""
        try:
            balls = self.program.run(self.order, {**self.fixed, self.x: ball(x)})
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
                again = SameDerivative(self.claim.left, mended, self.claim.setting)
                if isinstance(check(again, seconds=max(self.deadline - monotonic(), 0.05)), Checked):
                    return self.refuted("needs-absolute-value", x)
        return self.refuted("undefined", x)

    def exact(self, x: Fraction) -> bool:
        """Rung 2 at one point."""
        return vanishes(self.program, self.difference, {**self.fixed, self.x: ball(x)}, self.hints, self.deadline)

    def proves(self, values: dict[str, Any]) -> bool:
        """Rung 2 with symbols for parameters, at simple points of the variable."""
        self.domain, self.fixed = [(-arb.pos_inf(), arb.pos_inf())], {**self.fixed, **values}
        found = [x for x in QUICK if isinstance(self.compare(x), list)]
        return bool(found) and all(self.exact(x) for x in found[:: max(1, len(found) // 3)])

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
        if digits < LEAST_DIGITS or not points:
            return Undecided(self.claim, "budget", "too few digits can be compared")
        return seal(self.claim, "enclosed", digits, points, remarks, len(found.pieces))

    def remarks(self, found: Cover) -> Iterator[Remark]:
        """What a derivative cannot see: jumps and removable points of the answer where the reference is continuous."""
        if len(found.pieces) > 1:
            yield Remark("several-intervals")
        if found.window:
            yield Remark("window", found.window)
        for low, high in found.between if isinstance(self.claim, SameDerivative) else ():
            kind = self.special(low, high)
            if kind:
                yield Remark(kind, low.union(high).mid().str(6, radius=False))

    def special(self, low: Any, high: Any) -> str | None:
        """What the answer does between two neighbouring components, if the reference is continuous there."""
        step = ball(Fraction(1, 1024))
        try:
            slope = self.value(self.left, (low - step).union(high + step))
            rise = self.value(self.answer, high + step) - self.value(self.answer, low - step)
        except (Undefined, Unsure):
            return None
        if rise - slope * (high - low + 2 * step) != 0:
            return "jump"
        try:
            return None if self.value(self.answer, low.union(high)).is_finite() else "removable"
        except (Undefined, Unsure):
            return "removable"

    def value(self, entry: int, x: Any) -> Any:
        return self.program.run(self.program.order(entry), {**self.fixed, self.x: x}, strict=False)[entry]


def agreement(difference: Any) -> int:
    """The number of decimal digits after the point to which a difference is zero."""
    return int(max(0, -(difference.abs_upper() + NOTHING).log().floor().unique_fmpz() * 10 // 23))


def spread(piece: Piece, count: int) -> Iterator[Fraction]:
    """The sample of a component and some more points of it."""
    yield piece.sample
    low, high = piece.lower, piece.upper
    for _ in range(count // 2):
        left, right = inside(low, ball(piece.sample)), inside(ball(piece.sample), high)
        yield from (left, right)
        low, high = ball(left), ball(right)


def with_absolute(node: Node) -> Node:
    node = rebuild(node, with_absolute)
    return Call("ln", Absolute(node.argument)) if isinstance(node, Call) and node.function == "ln" else node


def question_claim(question: Question, key: Node) -> Claim:
    """The claim that a key answers a question."""
    setting = Setting(question.variable, question.domain, question.given)
    match question.node:
        case Integral(body, _, Node() as lower, Node() as upper):
            return IntegralValue(body, lower, upper, key, setting)
        case Limit(body, _, point, side):
            return LimitValue(body, point, side, key, setting)
        case Derivative(body, _, order):
            return DerivativeOf(body, order, key, setting)
    return SameDerivative(question.node, key, setting)
