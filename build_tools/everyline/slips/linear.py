"""The linear correction: which constants in front of the terms would make an answer right?

The answer is Σ tₖ; the constants cₖ with Σ cₖ tₖ′ = f are found by solving linear equations in balls at as many points as there
are terms, recognised as simple numbers, and tried at more points. Wrong signs, lost or doubled factors are all of this kind.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from flint import arb, arb_mat, ctx, fmpq

from ..algebra.derivative import NotSupported, derivative
from ..arithmetic.balls import ball, run, value
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, Undefined, Unsure
from ..arithmetic.stops import NotSupported as NoRule
from ..notation.build import ONE, PI, add, call, contains, divide, multiply, number, root, walk
from ..notation.question import Question
from ..notation.tree import ArbitraryConstant, Derivative, Node, Number, Power
from .answers import Term, constants, scale, terms
from .compare import samples

MAX_TERMS = 12
BITS = 160


@dataclass(frozen=True, slots=True)
class Correction:
    """The terms of an answer and the constants that they must be multiplied by; `repaired` is the answer with them."""

    terms: tuple[Term, ...]
    factors: tuple[Node, ...]
    repaired: Node

    @property
    def wrong(self) -> tuple[int, ...]:
        """The places of the terms at fault."""
        return tuple(place for place, factor in enumerate(self.factors) if factor != ONE)


def correction(question: Question, claimed: Node) -> Correction | None:
    """The constants that mend the claimed antiderivative or derivative; None if there are none or nothing is wrong."""
    x = question.variable
    parts = terms(claimed, x)
    if any(contains(part.tree, ArbitraryConstant) for part in parts):
        return None
    if question.kind not in ("indefinite", "derivative") or not 0 < len(parts) <= MAX_TERMS:
        return None
    try:
        factors = _solve(question, [part.tree for part in parts])
    except (NotSupported, NoRule, Budget):
        return None
    if factors is None or all(factor == ONE for factor in factors):
        return None
    mended = (part.tree if factor == ONE else scale(part.tree, factor, x) for part, factor in zip(parts, factors, strict=True))
    return Correction(parts, tuple(factors), add(*mended, *constants(claimed, x)))


def _solve(question: Question, trees: list[Node]) -> list[Node] | None:
    x = question.variable
    program = Program(x)
    if isinstance(question.node, Derivative):
        goals = [program.add(tree) for tree in trees]
        goals.append(program.add(derivative(question.body, x, None, question.node.order)))
    else:
        goals = [program.add(derivative(tree, x)) for tree in trees]
        goals.append(program.add(question.body))
    with ctx.workprec(BITS):
        rows = _rows(question, program, goals, 2 * len(trees) + 6)
        if len(rows) < len(trees) + 2:
            return None
        # Every other row, so that the equations and the trial of them both reach all over the domain.
        chosen = rows[:: max(1, len(rows) // len(trees))][: len(trees)]
        solved = _solved(chosen) or _solved(rows[-len(trees) :])
        if solved is None:
            return None
        factors = [recognise(ball, _surds(question)) for ball in solved]
        found = [factor for factor in factors if factor is not None]
        if len(found) < len(factors) or not all(_fits(row, solved) for row in rows):
            return None
    return found


def _rows(question: Question, program: Program, goals: list[int], wanted: int) -> list[list[Any]]:
    order = program.order(*goals)
    rows: list[list[Any]] = []
    for values in (point for points in zip(*(_cycle(window) for window in samples(question)), strict=True) for point in points):
        exact = {name: ball(Fraction(number).limit_denominator(10**6)) for name, number in values.items()}
        try:
            balls = run(program, order, exact)
        except (Undefined, Unsure):
            continue
        row = [balls[goal] for goal in goals]
        if all(ball.is_finite() and abs(ball) < 1e12 for ball in row):
            rows.append(row)
        if len(rows) == wanted:
            break
    return rows


def _cycle(window: tuple[Any, ...]) -> list[Any]:
    """A window's points, as many as the widest has, so that all windows are used in turn."""
    return [window[place % len(window)] for place in range(6)] if len(window) >= 6 else list(window[:4] * 2)[:6]


def _solved(rows: list[list[Any]]) -> list[Any] | None:
    matrix, right = arb_mat([row[:-1] for row in rows]), arb_mat([[row[-1]] for row in rows])
    try:
        solution = matrix.solve(right)
    except ZeroDivisionError:
        return None
    return [solution[place, 0] for place in range(len(rows))]


def _fits(row: list[Any], factors: list[Any]) -> bool:
    difference = sum((ball * factor for ball, factor in zip(row, factors, strict=False)), arb(0)) - row[-1]
    return bool(difference.contains(0))


def _surds(question: Question) -> tuple[Node, ...]:
    """Irrational constants that a factor may hold: small roots, π, and the logarithms of the question's bases."""
    bases = {part.base for part in walk(question.node) if isinstance(part, Power) and isinstance(part.base, Number) and part.base != ONE}
    return (*(root(number(n)) for n in (2, 3, 5, 6, 7, 10)), PI, *(call("ln", base) for base in sorted(bases, key=repr)))


def recognise(ball: Any, surds: tuple[Node, ...] = ()) -> Node | None:
    """A simple number that the ball holds: p/q, p s/q or p/(q s) for one of the irrational `surds` s. None if it holds none."""
    if not ball.is_finite() or ball.rad() > 1e-12:
        return None
    for surd in (ONE, *surds):
        program = Program()
        size = value(program, program.add(surd), {})
        for scaled, build in ((ball / size, multiply), (ball * size, divide)):
            near = Fraction(float(scaled.mid())).limit_denominator(720)
            if abs(near.numerator) <= 10**4 and scaled.contains(fmpq(near.numerator, near.denominator)):
                return build(number(near), surd) if surd != ONE else number(near)
    return None
