"""Claims about numbers: limits and integrals between limits, by exact one-sided limits.

An integral's value is proved with an antiderivative, which the claim brings as its certificate; that an integral diverges, or
that two are equal line by line, needs none. Without a certificate a value is at best enclosed by quadrature.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from ..notation.build import ONE, ZERO, add, divide, multiply, negate, number
from ..notation.tree import (
    Diverges,
    DoesNotExist,
    Evaluation,
    Infinity,
    Integral,
    Interval,
    Limit,
    Name,
    Negative,
    Node,
    Product,
    Quotient,
    Sum,
)  # fmt: skip
from .check import Checked, Ladder, Verdict, agreement, has_values, samples, seal
from .claims import Equal, IntegralValue, LimitValue, Refuted, SameDerivative, Setting, Undecided
from .cover import FINE, Cover, atoms, cover, ends, exact_place
from .expansion import Expander, H, with_field
from .field import Element
from .program import Budget, NotSupported, Program, Undefined, Unsure

MINUS_INFINITY = Negative(Infinity())
NO_NUMBER = (Infinity, Diverges, DoesNotExist)


class Infinite(Exception):
    """A limit is infinite; `args[0]` is its sign."""


class NoLimit(Exception):
    """The one-sided limits differ."""


def infinite(node: Node) -> int:
    return 1 if isinstance(node, Infinity) else -1 if node == MINUS_INFINITY else 0


class Values:
    """One claim for one choice of the parameters. `outcome` is True for proved, a number of digits, a verdict, or None."""

    def __init__(self, claim: Equal | IntegralValue | LimitValue, values: dict[str, Node], deadline: float) -> None:
        self.claim, self.deadline, self.x, self.values = claim, deadline, claim.setting.variable, values
        self.bound = {**dict(claim.setting.bindings), **values}

    def refuted(self, reason: str, place: object = "", left: object = "") -> Refuted:
        return Refuted(self.claim, reason, None, str(place), str(left))

    def near(self, body: Node, variable: str, point: Node, side: str) -> tuple[Program, int]:
        """A tree as an entry of a program in which the variable is p ± h, or ±1/h, with h → 0+."""
        h, sense = Name(H), infinite(point)
        program = Program(H, {**self.bound, variable: divide(number(sense), h) if sense else add(point, negate(h) if side == "-" else h)})
        return program, program.add(body)

    def limit(self, expander: Expander, body: Node, variable: str, point: Node, side: str) -> Element:
        """A limit as a number of the field. Raises `Infinite`, `NoLimit`, `Undefined`, or what an expansion raises."""
        found: list[Element | int] = []
        for way in side or ("+-" if not infinite(point) else "+"):
            program, goal = self.near(body, variable, point, way)
            found.append(expander.tends(expander.expansion(program, goal)))
        first, last = found[0], found[-1]
        if isinstance(first, int) or isinstance(last, int):
            raise Infinite(first) if first == last else NoLimit
        gap = expander.field.add(first, last, -1)
        if gap[0] and expander.field.value(gap) != 0:
            raise NoLimit
        if gap[0]:
            raise Unsure(-1)
        return first

    def sides(self, left: Sequence[tuple[Node, int]], right: Node) -> tuple[int, int, bool, Any]:
        """A signed sum of trees against a tree: the sign of infinity of each (2: of both signs), whether they are equal, the gap."""

        def question(expander: Expander) -> tuple[int, int, bool, Any]:
            field = expander.field
            senses: tuple[list[int], list[int]] = ([], [])
            field.limits = lambda _, *limit: self.limit(expander, *limit)
            total = field.nought
            for node, sign in [*left, (right, -1)]:
                program = Program(self.x, self.bound)
                try:
                    if infinite(node):
                        raise Infinite(infinite(node))
                    total = field.add(total, field.element(program, program.add(node)), sign)
                except Infinite as stop:
                    (senses[1] if node is right else senses[0]).append(stop.args[0] * (1 if node is right else sign))
            first, second = ((s or [0])[0] if len(set(s)) < 2 else 2 for s in senses)
            return first, second, not total[0], field.value(total)

        return with_field(self.deadline, question)

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
        program, goal = self.near(node, self.x, point, side)

        def question(expander: Expander) -> tuple[int, Any, int, int]:
            a = expander.expansion(program, goal)
            k, _, degree, sign = expander.lead(a) if a.terms else (a.limit, None, 0, 0)
            return expander.grows(a.growth), k, degree, sign

        return with_field(self.deadline, question)

    def numerically(self, node: Node) -> Any:
        """A tree that the claim says is zero, by balls and quadrature."""
        program = Program(self.x, self.bound)
        goal = program.add(node)
        try:
            gap = program.run(program.order(goal), {}, strict=False)[goal]
        except (Undefined, Unsure, KeyError):
            return None
        if gap != 0:
            return self.refuted("differs", left="off by " + gap.str(8, radius=False))
        return agreement(gap) if gap.is_finite() and gap.rad() < 1e-12 else None


class LimitCheck(Values):
    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, LimitValue)
        return self.against([(Limit(claim.function, self.x, claim.point, claim.side), 1)], claim.value)


class EqualCheck(Values):
    """Lines that hold limits, evaluations and integrals between limits."""

    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, Equal)
        try:
            parts = [*linear(claim.left, ONE), *linear(claim.right, Negative(ONE))]
            if not any(isinstance(part, Integral) for _, part in parts):
                return self.against([(claim.left, 1)], claim.right)
            if self.by_primitives(parts):
                return True
        except (Budget, NotSupported, Undefined, Infinite, NoLimit):
            pass
        return self.numerically(add(claim.left, negate(claim.right)))

    def by_primitives(self, parts: list[tuple[Node, Node]]) -> bool:
        """Whether all integrals and evaluations run over the same interval of x and have one primitive that is constant there."""
        moving = [(c, part) for c, part in parts if isinstance(part, Integral | Evaluation)]
        own = next((part for _, part in moving if part.variable == self.x), None)
        a, b = (own.lower, own.upper) if own else (None, None)
        if a is None or b is None:
            return False
        forward, bodies = self.forward(a, b), []
        total: Node = ZERO
        for c, part in moving:
            inner = Name(part.variable)
            for end, side, mine in ((a, "+", part.lower), (b, "-", part.upper)):
                if part.variable != self.x or end != mine:
                    way = side if forward else "-" if side == "+" else "+"
                    first, second, exact, _ = self.sides([(Limit(inner, self.x, end, way), 1)], mine or ZERO)
                    if not (first == second if first or second else exact):
                        return False
            body = Integral(part.integrand, part.variable) if isinstance(part, Integral) else part.body
            bodies += [] if isinstance(part, Integral) else [body]
            total = add(total, multiply(c, body))
        constants = [(multiply(c, part), 1) for c, part in parts if not isinstance(part, Integral | Evaluation)]
        if constants and not self.sides(constants, ZERO)[2]:
            return False
        interval = Interval(a, b) if forward else Interval(b, a)
        setting = Setting(self.x, interval, self.claim.setting.given, self.claim.setting.bindings)
        ladder = Ladder(SameDerivative(total, ZERO, setting), self.values, self.deadline)
        outcome = ladder.climb()
        spots = [{**ladder.fixed, self.x: a.union(b)} for a, b in ladder.found.between]
        whole = all(unbroken(ladder.program, ladder.program.add(body), spot) for body in bodies for spot in spots)
        return isinstance(outcome, Checked) and outcome.grade == "proved" and whole

    def forward(self, a: Node, b: Node) -> bool:
        low, high = ends(Interval(a, b), self.bound)[0]
        return bool(low < high)


def unbroken(program: Program, entry: int, spot: dict[str, Any]) -> bool:
    """Whether an entry is surely continuous across a ball: finite there, and no sign in it can change (a finite sgn jumps)."""
    order = program.order(entry)
    balls = program.run(order, spot, strict=False)
    signs = (balls[program.ops[part][1]] for part in order if program.ops[part][0] == "sgn")
    return bool(balls[entry].is_finite()) and all(sign != 0 for sign in signs)


def moves(node: Node) -> bool:
    return has_values(node) or isinstance(node, Evaluation)


def linear(node: Node, c: Node) -> Iterator[tuple[Node, Node]]:
    """A tree as Σ c·part, the parts integrals, evaluations or limits where they stand linearly, else whatever is left."""
    match node:
        case Negative(u):
            yield from linear(u, negate(c))
        case Sum(terms):
            for term in terms:
                yield from linear(term, c)
        case Product(factors) if any(map(moves, factors)):
            place = next(i for i, f in enumerate(factors) if moves(f))
            yield from linear(factors[place], multiply(c, *factors[:place], *factors[place + 1 :]))
        case Quotient(u, v) if has_values(u):
            yield from linear(u, divide(c, v))
        case _:
            yield c, node


class IntegralCheck(Values):
    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, IntegralValue)
        lower, upper, self.f, self.target = claim.lower, claim.upper, claim.integrand, claim.value
        low, high = ends(Interval(lower, upper), self.bound)[0]
        if low > high:
            lower, upper, low, high = upper, lower, high, low
            self.target = self.target if isinstance(self.target, Diverges | DoesNotExist) else negate(self.target)
        elif not low < high:
            return self.against([(ZERO, 1)], claim.value) if lower == upper else None
        self.lower, self.upper = lower, upper
        program = Program(self.x, self.bound)
        entry = program.add(self.f)
        marks = self.marks(cover(program, (entry,), (), entry, [(low, high)], {}, self.deadline), program, entry, low, high)
        if isinstance(marks, Refuted):
            return marks
        if marks is not None:
            word = self.convergence(marks)
            if word is not None:
                return word
        if isinstance(claim.certificate, Node):
            word = self.by_antiderivative(claim.certificate, low, high)
            if word is not None:
                return word
        proper = low.is_finite() and high.is_finite() and not isinstance(self.target, NO_NUMBER) and self.target != MINUS_INFINITY
        return self.numerically(add(Integral(self.f, self.x, lower, upper), negate(self.target))) if proper else None

    def marks(self, found: Cover, program: Program, entry: int, low: Any, high: Any) -> Any:
        """The limits and the exact places between them where an entry is not continuous; None if one of them is not found."""
        pieces, marks = found.pieces, [self.lower]
        edges = [low, *(end for piece in pieces for end in (piece.lower, piece.upper)), high]
        for a, b in zip(edges[::2], edges[1::2], strict=True):
            if not pieces or not (a.overlaps(b) or b - a < 4 * FINE):
                try:
                    program.run(program.order(entry), {self.x: (a + b) / 2})
                except Undefined:
                    return self.refuted("undefined", ((a + b) / 2).str(6, radius=False))
                except Unsure:
                    pass
                return None
        for left, right in pairwise(pieces):
            spot = left.upper.union(right.lower)
            try:
                if unbroken(program, entry, {self.x: spot}):
                    continue
            except (Undefined, Unsure):
                pass
            places = (exact_place(program, [guard], spot, self.deadline) for guard in atoms(program, program.order(entry)))
            place = next((p for p in places if p is not None), None)
            if place is None:
                return None
            marks.append(place)
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
            return self.refuted("diverges" if point in (self.lower, self.upper) else "pole", self.place(point))
        endless = isinstance(self.target, NO_NUMBER) or self.target == MINUS_INFINITY
        return self.refuted("differs") if endless and None not in found else None

    def place(self, node: Node) -> str:
        here = ends(Interval(node, node), self.bound)[0][0]
        return str(here.str(8, radius=False)) if here.is_finite() else "infinity" if infinite(node) > 0 else "-infinity"

    def by_antiderivative(self, antiderivative: Node, low: Any, high: Any) -> Any:
        """The value from one-sided limits of an antiderivative at every place where it is not continuous; None if it does not serve."""
        setting = Setting(self.x, Interval(self.lower, self.upper), self.claim.setting.given)
        try:
            ladder = Ladder(SameDerivative(Integral(self.f, self.x), antiderivative, setting), self.values, self.deadline)
            outcome = ladder.climb()
            if not isinstance(outcome, Checked) or outcome.grade != "proved":
                return None
            marks = self.marks(ladder.found, ladder.program, ladder.answer, low, high)
            if marks is None or isinstance(marks, Refuted):
                return None
            rises = ((Limit(antiderivative, self.x, b, "-"), Limit(antiderivative, self.x, a, "+")) for a, b in pairwise(marks))
            limits = [limit for top, bottom in rises for limit in ((top, 1), (bottom, -1))]
            word = self.against(limits, self.target)
        except (Budget, NotSupported):
            return None
        return None if isinstance(word, Refuted) and word.reason == "undefined" else word


def decide_value(claim: Equal | IntegralValue | LimitValue, deadline: float) -> Verdict:
    """Every admissible choice of the parameters that is tried must give the claimed value."""
    kind = LimitCheck if isinstance(claim, LimitValue) else IntegralCheck if isinstance(claim, IntegralValue) else EqualCheck
    outcomes = []
    for values in samples(claim.setting.given):
        outcomes.append(kind(claim, {name: number(value) for name, value in values.items()}, deadline).outcome())
        if outcomes[-1] is None:
            return Undecided(claim, "needs-certificate")
        if isinstance(outcomes[-1], Refuted):
            return outcomes[-1]
    if not outcomes:
        return Undecided(claim, "nowhere-defined", "no admissible parameters were found")
    proved = all(o is True for o in outcomes) and not claim.setting.given.parameters
    digits = min((o for o in outcomes if o is not True), default=0)
    return seal(claim, "proved" if proved else "enclosed", 0 if proved else digits, len(outcomes), (), 1)
