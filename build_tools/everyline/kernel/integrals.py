"""Integrals between limits: values from an antiderivative that a claim brings, divergence from the integrand alone; lines of several."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from itertools import pairwise
from typing import Any

from flint import arb

from ..arithmetic.balls import value
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..notation import tree
from ..notation.build import ONE, ZERO, add, call, children, divide, infinite, multiply, negate, subtract
from ..notation.tree import Absolute, Derivative, Diverges, DoesNotExist, Evaluation, Integral, Interval, Limit, Name, Negative, Node
from .claims import Equal, IntegralValue, Refuted, SameDerivative, Setting, Tail
from .cover import cover, ends
from .guards import signs
from .values import Infinite, NoLimit, Values, unbroken


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
        return None if endless(self.target) else self.between(claim.certificate if isinstance(claim.certificate, tuple) else ())

    def marks(self, program: Program, entry: int) -> Any:
        """The limits and the exact places between them where an entry is not continuous; None if one of them is not found."""
        domain = ends(Interval(self.lower, self.upper), self.bound)
        found, marks = cover(program, (entry,), (), entry, domain, {}, self.deadline, every=True), [self.lower]
        if found.outside is not None:
            return self.refuted("undefined", found.outside)
        for mark in found.between:
            with suppress(Undefined, Unsure):
                if unbroken(program, entry, {self.x: mark.ball}):
                    continue
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
        with suppress(Budget, NotSupported):
            ladder = self.proved(SameDerivative(Integral(self.f, self.x), antiderivative, setting))
            marks = self.marks(ladder.program, ladder.answer) if ladder else None
            if isinstance(marks, list):
                word = self.against([limit for a, b in pairwise(marks) for limit in self.rise(antiderivative, a, b)], self.target)
                return None if isinstance(word, Refuted) and word.reason == "undefined" else word
        return None

    def rise(self, primitive: Node, a: Node, b: Node) -> list[tuple[Node, int]]:
        return [(Limit(primitive, self.x, b, "-"), 1), (Limit(primitive, self.x, a, "+"), -1)]

    def between(self, tails: tuple[Tail, ...]) -> Any:
        """By quadrature between the cuts; beyond a cut the integral is at most what the tail's primitive rises or falls."""
        lower, upper, beyond = self.lower, self.upper, arb(0)
        for tail in tails:
            slope = Derivative(tail.primitive, self.x)
            # It has a value only where the factor is between -1 and 1 and the slope is not zero.
            guard = add(*(call("ln", u) for u in (subtract(ONE, tail.factor), add(ONE, tail.factor), Absolute(slope))))
            setting = replace(self.claim.setting, domain=Interval(tail.low, tail.high))
            ladder = self.proved(Equal(add(multiply(slope, tail.factor), guard), add(self.f, guard), setting))
            whole = ladder and [piece[:2] for piece in ladder.found.pieces] == [(low.ball, high.ball) for low, high in ladder.domain]
            endless, _, _, change = self.sides(self.rise(tail.primitive, tail.low, tail.high), ZERO)
            if not whole or endless or (tail.low != lower and tail.high != upper):
                return None
            lower, upper = (tail.high, upper) if tail.low == lower else (lower, tail.low)
            beyond += change.union(-change)
        inner = subtract(Integral(self.f, self.x, lower, upper), self.target)
        return None if infinite(lower) or infinite(upper) else self.numerically(inner, beyond)


class EqualCheck(Values):
    """Limits, and lines that hold limits, evaluations and integrals between limits."""

    def outcome(self) -> Any:
        claim = self.claim
        assert isinstance(claim, Equal)
        with suppress(Budget, NotSupported, Undefined, Unsure, Infinite, NoLimit):
            parts = [*linear(claim.left, ONE), *linear(claim.right, Negative(ONE))]
            if not any(isinstance(part, Integral) for _, part in parts):
                return self.against([(claim.left, 1)], claim.right)
            if self.cut(parts) or self.by_primitives(parts):
                return True
        return self.numerically(add(claim.left, negate(claim.right)))

    def cut(self, parts: list[tuple[Node, Node]]) -> bool:
        """Whether all are integrals of one function that exist, and at each of their ends as much is taken away as is added."""
        sums = dict[Node, Node]()
        functions = {(part.integrand, part.variable) for _, part in parts if isinstance(part, Integral)}
        for c, part in parts:
            match part:
                case Integral(f, x, Node() as lower, Node() as upper) if len(functions) == 1:
                    claim = IntegralValue(f, lower, upper, Diverges(), Setting(x, None, self.claim.setting.given))
                    outcome = IntegralCheck(claim, self.values, self.deadline, self.symbolic).outcome()
                    if not isinstance(outcome, Refuted) or outcome.reason != "differs":  # it may diverge
                        return False
                    for end, weight in ((upper, c), (lower, negate(c))):
                        sums[end] = add(sums.get(end, ZERO), weight)
                case _:
                    return False
        return all(self.sides([(total, 1)], ZERO)[2] for total in sums.values())

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


def has_values(node: Node) -> bool:
    """Whether a tree holds limits or integrals with limits (that are not differentiated away)."""
    here = isinstance(node, Limit) or (isinstance(node, Integral) and node.lower is not None)
    return here or (not isinstance(node, Derivative) and any(map(has_values, children(node))))


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
