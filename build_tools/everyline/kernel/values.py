"""Claims about numbers: limits and integrals between limits, by exact one-sided limits.

An integral's value is proved with an antiderivative, which the claim brings as its certificate; that an integral diverges, or
that two are equal line by line, needs none. Without a certificate a value is at best enclosed by quadrature.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from ..arithmetic.balls import ball, run, value
from ..arithmetic.elements import Element
from ..arithmetic.expansion import Expander, H, with_field
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..notation import tree
from ..notation.build import ONE, ZERO, add, children, divide, multiply, negate, number
from ..notation.tree import Diverges, DoesNotExist, Evaluation, Integral, Interval, Limit, Name, Negative, Node
from .claims import Checked, Equal, IntegralValue, Refuted, SameDerivative, Setting, Undecided, Verdict, stands
from .cover import ends, infinite
from .ladder import Ladder, agreement


class Infinite(Exception):
    """A limit is infinite; `args[0]` is its sign."""


class NoLimit(Exception):
    """The one-sided limits differ."""


class Values:
    """One claim for one choice of the parameters, which stay symbols near their values in what is done exactly if `symbolic`."""

    def __init__(self, claim: Equal | IntegralValue, values: Mapping[str, Fraction], deadline: float) -> None:
        self.claim, self.deadline, self.x, self.values = claim, deadline, claim.setting.variable, values
        self.bound = {**dict(claim.setting.bindings), **{name: number(v) for name, v in values.items()}}
        self.exact, self.symbolic = self.bound, False
        self.near: Mapping[str, Any] = {}

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
        self.exact, self.symbolic = dict(self.claim.setting.bindings), True
        self.near = {name: ball(v) for name, v in self.values.items()}
        return self.outcome() is True

    def refuted(self, reason: str, place: object = "", left: object = "") -> Refuted:
        return Refuted(self.claim, reason, None, str(place), str(left))

    def beside(self, body: Node, variable: str, point: Node, side: str) -> tuple[Program, int]:
        """A tree as an entry of a program in which the variable is p ± h, or ±1/h, with h → 0+."""
        h, sense = Name(H), infinite(point)
        program = Program(H, {**self.exact, variable: divide(number(sense), h) if sense else add(point, negate(h) if side == "-" else h)})
        return program, program.add(body)

    def limit(self, expander: Expander, body: Node, variable: str, point: Node, side: str) -> Element:
        """A limit as a number of the field. Raises `Infinite`, `NoLimit`, `Undefined`, or what an expansion raises."""
        found: list[Element | int] = []
        for way in side or ("+-" if not infinite(point) else "+"):
            program, goal = self.beside(body, variable, point, way)
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
        program, goal = self.beside(node, self.x, point, side)

        def question(expander: Expander) -> tuple[int, Any, int, int]:
            a = expander.expansion(program, goal)
            k, _, degree, sign = expander.lead(a) if a.terms else (a.limit, None, 0, 0)
            return expander.grows(a.growth), k, degree, sign

        return with_field(self.deadline, question, self.near)

    def proved(self, claim: SameDerivative) -> Ladder | None:
        """The ladder of a claim that is proved."""
        ladder = Ladder(claim, self.values, self.deadline)
        outcome = ladder.climb()
        stands = isinstance(outcome, Checked) and outcome.grade == "proved"
        return ladder if stands and (not self.symbolic or ladder.holds_for_symbols()) else None

    def numerically(self, node: Node) -> Any:
        """A tree that the claim says is zero, by balls and quadrature."""
        program = Program(self.x, self.bound)
        try:
            gap = value(program, program.add(node), {})
        except (Undefined, Unsure):
            return None
        if gap != 0:
            return self.refuted("differs", left="off by " + gap.str(8, radius=False))
        return agreement(gap) if gap.is_finite() and gap.rad() < 1e-12 else None


class EqualCheck(Values):
    """Limits, and lines that hold limits, evaluations and integrals between limits."""

    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, Equal)
        try:
            parts = [*linear(claim.left, ONE), *linear(claim.right, Negative(ONE))]
            if not any(isinstance(part, Integral) for _, part in parts):
                return self.against([(claim.left, 1)], claim.right)
            if self.by_primitives(parts):
                return True
        except (Budget, NotSupported, Undefined, Unsure, Infinite, NoLimit):
            pass
        return self.numerically(add(claim.left, negate(claim.right)))

    def by_primitives(self, parts: list[tuple[Node, Node]]) -> bool:
        """Whether all integrals and evaluations run over the same interval of x and have one primitive that is constant there."""
        moving = [(c, part) for c, part in parts if isinstance(part, Integral | Evaluation)]
        own = next((part for _, part in moving if part.variable == self.x), None)
        dummies = {part.variable for _, part in moving}
        if own is None and len(dummies) == 1 and not self.values:  # all run in one other variable, whose name says nothing
            return EqualCheck(Equal(ZERO, ZERO, Setting(dummies.pop())), {}, self.deadline).by_primitives(parts)
        a, b = (own.lower, own.upper) if own else (None, None)
        if a is None or b is None:
            return False
        low, high = (end.ball for end in ends(Interval(a, b), self.bound)[0])
        forward, bodies = bool(low < high), []
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
        ladder = self.proved(SameDerivative(total, ZERO, setting))
        spots = [{**ladder.fixed, self.x: mark.ball} for mark in ladder.found.between] if ladder else []
        return ladder is not None and all(unbroken(ladder.program, ladder.program.add(body), spot) for body in bodies for spot in spots)


def unbroken(program: Program, entry: int, spot: dict[str, Any]) -> bool:
    """Whether an entry is surely continuous across a ball: finite there, and no sign in it can change (a finite sgn jumps)."""
    order = program.order(entry)
    balls = run(program, order, spot, strict=False)
    signs = (balls[program.ops[part][1]] for part in order if program.ops[part][0] == "sgn")
    return bool(balls[entry].is_finite()) and all(sign != 0 for sign in signs)


def has_values(node: Node) -> bool:
    """Whether a tree holds limits or integrals with limits (that are not differentiated away)."""
    here = isinstance(node, Limit) or (isinstance(node, Integral) and node.lower is not None)
    return here or (not isinstance(node, tree.Derivative) and any(map(has_values, children(node))))


def moves(node: Node) -> bool:
    return has_values(node) or isinstance(node, Evaluation)


def linear(node: Node, c: Node) -> Iterator[tuple[Node, Node]]:
    """A tree as Σ c·part, the parts integrals, evaluations or limits where they stand linearly, else whatever is left."""
    match node:
        case Negative(u):
            yield from linear(u, negate(c))
        case tree.Sum(terms):
            for term in terms:
                yield from linear(term, c)
        case tree.Product(factors) if any(map(moves, factors)):
            place = next(i for i, f in enumerate(factors) if moves(f))
            yield from linear(factors[place], multiply(c, *factors[:place], *factors[place + 1 :]))
        case tree.Quotient(u, v) if has_values(u):
            yield from linear(u, divide(c, v))
        case _:
            yield c, node
