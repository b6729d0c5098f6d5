"""Where expressions are defined and analytic: the components of a domain, by exact roots of guards or by bisection with balls."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from time import monotonic
from typing import Any

from flint import Ordering, arb, fmpq, fmpq_mpoly_ctx, fmpq_poly

from ..notation.tree import Infinity, Interval, Negative, Node, Region, Union
from .derivative import Bindings
from .program import GUARDS, KINKED, Budget, Program, Undefined, Unsure, ball

#: How far out and how finely bisection looks where guards are not polynomials.
WINDOW, FAR, FINE, MAX_BOXES = 7, 10**6, 2.0**-9, 6000
INFINITY = arb.pos_inf()


@dataclass(slots=True)
class Piece:
    """A component: the open interval between two ends (balls), and a rational point in it."""

    lower: Any
    upper: Any
    sample: Fraction


@dataclass(slots=True)
class Cover:
    """The components found, the special points between two of them, the first place where only the reference is defined."""

    pieces: list[Piece] = field(default_factory=list)
    between: list[Any] = field(default_factory=list)
    undefined: Fraction | None = None
    window: str = ""


def ends(domain: Region | None, bound: Bindings) -> list[tuple[Any, Any]]:
    """The intervals of a region as pairs of balls, infinite ends included."""
    parts: tuple[Interval, ...] = domain.parts if isinstance(domain, Union) else () if domain is None else (domain,)

    def end(node: Node) -> Any:
        if isinstance(node, Infinity):
            return INFINITY
        if node == Negative(Infinity()):
            return -INFINITY
        program = Program(bound)
        entry = program.add(node)
        return program.run(program.order(entry), {}, strict=False)[entry]

    return [(end(p.lower), end(p.upper)) for p in parts] or [(-INFINITY, INFINITY)]


def atoms(program: Program, entries: Iterable[int]) -> dict[int, bool]:
    """What the guards of some entries are made of, as entries whose zeros are all that matters; and whether one is kinked."""
    found: dict[int, bool] = {}

    def strip(entry: int, kinked: bool) -> None:
        op = program.ops[entry]
        if op[0] in ("mul", "div", "abs", "pow", "root"):
            for part in op[1:3] if op[0] == "mul" else op[1:2]:
                strip(part, kinked)
        elif not surely_positive(program, entry):
            found[entry] = found.get(entry, False) or kinked

    for entry in entries:
        op = program.ops[entry]
        if op[0] in GUARDS:
            strip(op[GUARDS[op[0]]], op[0] in KINKED)
    return found


def surely_positive(program: Program, entry: int) -> bool:
    """Whether an entry is positive wherever it is defined, as far as its shape shows: 1 + x², cosh x, e^{2x} + 3."""
    op = program.ops[entry]
    if op[0] == "num":
        return bool(op[1] > 0)
    if op[0] in ("mul", "div"):
        return surely_positive(program, op[1]) and surely_positive(program, op[2])
    if op[0] == "add":
        parts = [(surely_positive(program, e), not_negative(program, e)) for e in op[1:]]
        return any(p for p, _ in parts) and all(n for _, n in parts)
    return op[0] in ("exp", "pi") or (op[0] == "root" and op[3] % 2 == 1 and surely_positive(program, op[1]))


def not_negative(program: Program, entry: int) -> bool:
    op = program.ops[entry]
    even = op[0] == "abs" or (op[0] == "pow" and op[2] % 2 == 0) or (op[0] == "root" and op[3] % 2 == 0) or (op[0] == "mul" and op[1] == op[2])
    both = op[0] in ("add", "mul") and not_negative(program, op[1]) and not_negative(program, op[2])
    return even or both or surely_positive(program, entry)


ALGEBRA = fmpq_mpoly_ctx.get(["x", *(f"r{i}" for i in range(5))], Ordering.lex)


def polynomial(program: Program, goal: int, variable: str) -> Any | None:
    """A polynomial in the variable over Q among whose zeros are those of an entry, if the entry is algebraic in it; else None.

    Roots and absolute values are unknowns, eliminated at the end by resultants.
    """
    x, *unknowns = ALGEBRA.gens()
    relations: list[tuple[str, Any]] = []
    known: dict[int, tuple[Any, Any]] = {}
    one = ALGEBRA.constant(1)
    for entry in program.order(goal):
        op = program.ops[entry]
        a, b = (*(known[part] for part in program.parts(entry)), None, None)[:2]
        if op[0] == "num":
            result = ALGEBRA.constant(fmpq(op[1].numerator, op[1].denominator)), one
        elif op[0] == "var" and op[1] == variable:
            result = x, one
        elif op[0] == "pow" and op[2] * max(a[0].total_degree(), a[1].total_degree(), 1) <= 100:
            result = a[0] ** op[2], a[1] ** op[2]
        elif op[0] == "add":
            result = (a[0] + b[0], a[1]) if a[1] == b[1] else (a[0] * b[1] + b[0] * a[1], a[1] * b[1])
        elif op[0] in ("mul", "div"):
            result = (a[0] * b[0], a[1] * b[1]) if op[0] == "mul" else (a[0] * b[1], a[1] * b[0])
        elif op[0] in ("root", "abs") and len(relations) < len(unknowns):
            r, (power, index, inner) = unknowns[len(relations)], (op[2], op[3], 1) if op[0] == "root" else (1, 2, 2)
            relations.append((f"r{len(relations)}", r**index * a[1] ** inner - a[0] ** inner))
            result = r**power, one
        else:
            return None
        if max(len(result[0]), len(result[1])) > 60:
            return None
        known[entry] = result
    top = known[goal][0]
    for name, relation in reversed(relations):
        top = top.resultant(relation, name)
    return None if top.is_zero() else top


def real_roots(polynomials: list[Any]) -> list[Any]:
    """The distinct real roots of some polynomials as balls in order (exact where they are dyadic)."""
    factors = {str(p): p for poly in polynomials if not poly.is_constant() for p, _ in poly.factor()[1]}
    roots = []
    for p in factors.values():
        degree = int(p.degrees()[0])
        coefficients = fmpq_poly([p[(k, 0, 0, 0, 0, 0)] for k in range(degree + 1)])
        if degree == 1:
            roots.append(arb(-coefficients[0] / coefficients[1]))
        else:
            roots += [r.real for r, _ in coefficients.numer().complex_roots() if r.imag == 0]
    return sorted(roots, key=lambda r: float(r.mid()))


def inside(lower: Any, upper: Any) -> Fraction:
    """A short rational number between two balls, away from the middle and from round numbers."""
    low, high = float(lower.upper()), float(upper.lower())
    low = max(low, min(high, 0) - 6.5 if high < 1e300 else -6.5) if low < -1e300 else low
    high = min(high, max(low, 0) + 6.5) if high > 1e300 else high
    wanted = low + (high - low) * 0.5897
    for bound in (1, 7, 30, 1000, 10**6, 10**12):
        guess = Fraction(wanted).limit_denominator(bound) if bound > 1 else Fraction(round(wanted * 7), 7)
        if lower < ball(guess) < upper and (bound > 1 or high - low > 1):
            return guess
    raise Unsure(-1)


def cover(
    program: Program, reference: tuple[int, ...], wanted: tuple[int, ...], variable: str, domain: list[tuple[Any, Any]], deadline: float,
    fixed: Mapping[str, Any],
) -> Cover:  # fmt: skip
    """The components on which the reference and the wanted entries are analytic.

    Stops at the first place where the reference is surely defined and a wanted entry surely is not.
    """
    order = program.order(*reference, *wanted)
    first = frozenset(program.order(*reference))
    guards = atoms(program, order)
    polynomials, others = [], []
    for entry in guards:
        poly = polynomial(program, entry, variable)
        if poly is not None:
            polynomials.append(poly)
        else:
            others.append(entry)
    roots = real_roots(polynomials)
    kinked = any(guards[entry] for entry in others)
    result = Cover()

    def state(box: Any) -> str:
        try:
            program.run(order, {**fixed, variable: box})
        except Undefined as stop:
            return "outside" if stop.args[0] in first else "undefined"
        except Unsure:
            return "unsure"
        return "fine"

    for lower, upper in domain:
        marks = [lower, *(r for r in roots if r > lower and r < upper), upper]
        for low, high in zip(marks, marks[1:], strict=False):
            if others:
                found = _bisect(state, low, high, kinked, deadline, result)
            else:
                sample = inside(low, high)
                found = iter([(low, high, sample, state(ball(sample)))])
            for a, b, sample, verdict in found:
                if verdict == "undefined":
                    result.undefined = sample
                    return result
                if verdict == "fine":
                    if result.pieces and result.pieces[-1].upper is not None:
                        result.between.append((result.pieces[-1].upper, a))
                    result.pieces.append(Piece(a, b, sample))
    return result


def _bisect(state: Any, low: Any, high: Any, kinked: bool, deadline: float, result: Cover) -> Iterator[tuple[Any, Any, Fraction, str]]:
    """Runs of boxes with one verdict, from left to right; boxes that stay unsure at the finest width separate runs."""
    start, stop = float(low.mid()), float(high.mid())
    left = start if low.is_finite() else min(-WINDOW, stop - 2 * WINDOW)
    right = stop if high.is_finite() else max(WINDOW, start + 2 * WINDOW)
    boxes = _boxes(state, left, right, MAX_BOXES, deadline)
    if boxes is None:
        raise Budget("too many pieces to look at")
    # Past a pole an expression goes on as the same function: only where there are kinks has one to look far out.
    while kinked and not low.is_finite() and left > -FAR and (more := _boxes(state, 8 * left, left, 60, deadline)):
        boxes, left = more + boxes, 8 * left
    while kinked and not high.is_finite() and right < FAR and (more := _boxes(state, right, 8 * right, 60, deadline)):
        boxes, right = boxes + more, 8 * right
    if not (low.is_finite() and high.is_finite()):
        result.window = f"{left:g} … {right:g}"
    run: tuple[float, float, str] | None = None
    for box in boxes:
        if run and run[2] == box[2] and run[1] == box[0]:
            run = (run[0], box[1], run[2])
        else:
            if run and run[2] != "unsure":
                yield _finish(run)
            run = box
    if run and run[2] != "unsure":
        yield _finish(run)


def _boxes(state: Any, left: float, right: float, limit: int, deadline: float) -> list[tuple[float, float, str]] | None:
    """The boxes of an interval with their verdicts, from left to right; None if it takes too many."""
    stack, boxes, count = [(left, right)], [], 0
    while stack:
        a, b = stack.pop()
        count += 1
        if count > limit or monotonic() > deadline:
            return None
        verdict = state(arb((a + b) / 2, (b - a) * 0.5000001))
        if verdict == "unsure" and b - a > FINE * max(1.0, abs(a)):
            middle = a + (b - a) * 0.4823  # not the half: special points stand at simple places and should not be met again
            stack += [(middle, b), (a, middle)]
        else:
            boxes.append((a, b, verdict))
    return boxes


def _finish(run: tuple[float, float, str]) -> tuple[Any, Any, Fraction, str]:
    low, high = arb(run[0]), arb(run[1])
    return low, high, inside(low, high), run[2]
