"""Where expressions are defined and analytic: the components of a domain, by exact roots of guards or by bisection with balls."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from time import monotonic
from typing import Any

from flint import arb, fmpq, fmpq_poly

from ..notation.tree import Infinity, Interval, Negative, Node, Region, Union
from .program import GUARDS, KINKED, Budget, Point, Program, Undefined, Unsure

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


def ball(value: Fraction | int) -> Any:
    value = Fraction(value)
    return arb(fmpq(value.numerator, value.denominator))


def ends(domain: Region | None, point: Point) -> list[tuple[Any, Any]]:
    """The intervals of a region as pairs of balls, infinite ends included."""
    parts: tuple[Interval, ...] = domain.parts if isinstance(domain, Union) else () if domain is None else (domain,)

    def end(node: Node) -> Any:
        if isinstance(node, Infinity):
            return INFINITY
        if node == Negative(Infinity()):
            return -INFINITY
        program = Program()
        entry = program.add(node)
        return program.run(program.order(entry), point, strict=False)[entry]

    return [(end(p.lower), end(p.upper)) for p in parts] or [(-INFINITY, INFINITY)]


def atoms(program: Program, entries: Iterable[int]) -> dict[int, bool]:
    """What the guards of some entries are made of, as entries whose zeros are all that matters; and whether one is kinked."""
    found: dict[int, bool] = {}

    def strip(entry: int, kinked: bool) -> None:
        op = program.ops[entry]
        if op[0] in ("mul", "div", "abs", "pow", "root"):
            for part in op[1:3] if op[0] == "mul" else op[1:2]:
                strip(part, kinked)
        elif op[0] not in ("num", "exp", "pi"):
            found[entry] = found.get(entry, False) or kinked

    for entry in entries:
        op = program.ops[entry]
        for place in GUARDS.get(op[0], ()):
            strip(op[place], op[0] in KINKED)
    return found


def polynomial(program: Program, goal: int, variable: str, values: dict[str, Fraction]) -> Any | None:
    """The numerator of an entry as a polynomial in the variable over Q, if it is a rational function of it."""
    known: dict[int, tuple[Any, Any] | None] = {}
    for entry in program.order(goal):
        op = program.ops[entry]
        a = known.get(op[1]) if op[0] in ("add", "mul", "div", "pow") else None
        b = known.get(op[2]) if op[0] in ("add", "mul", "div") else None
        result: tuple[Any, Any] | None = None
        if op[0] == "num" or (op[0] == "var" and op[1] in values):
            value = op[1] if op[0] == "num" else values[op[1]]
            result = fmpq_poly([fmpq(value.numerator, value.denominator)]), fmpq_poly([1])
        elif op[0] == "var" and op[1] == variable:
            result = fmpq_poly([0, 1]), fmpq_poly([1])
        elif op[0] == "pow" and a and op[2] * max(a[0].degree(), a[1].degree(), 1) <= 200:
            result = a[0] ** op[2], a[1] ** op[2]
        elif a and b:
            if op[0] == "add":
                result = (a[0] + b[0], a[1]) if a[1] == b[1] else (a[0] * b[1] + b[0] * a[1], a[1] * b[1])
            else:
                result = (a[0] * b[0], a[1] * b[1]) if op[0] == "mul" else (a[0] * b[1], a[1] * b[0])
        if result is None or result[0].degree() > 200:
            return None
        known[entry] = result
    found = known[goal]
    return found[0] if found else None


def real_roots(polynomials: list[Any]) -> list[Any]:
    """The distinct real roots of some polynomials as balls in order (exact where they are dyadic)."""
    factors = {str(p): p for poly in polynomials for p, _ in poly.factor()[1]}
    roots = []
    for p in factors.values():
        if p.degree() == 1:
            roots.append(arb(-p[0] / p[1]))
        elif p.degree() > 1:
            roots += [r.real for r, _ in p.numer().complex_roots() if r.imag == 0]
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
    program: Program, reference: tuple[int, ...], wanted: tuple[int, ...], variable: str, domain: list[tuple[Any, Any]],
    values: dict[str, Fraction], deadline: float,
) -> Cover:  # fmt: skip
    """The components on which the reference and the wanted entries are analytic.

    Stops at the first place where the reference is surely defined and a wanted entry surely is not.
    """
    point = {name: ball(value) for name, value in values.items()}
    order = program.order(*reference, *wanted)
    first = frozenset(program.order(*reference))
    guards = atoms(program, order)
    polynomials, others = [], []
    for entry in guards:
        poly = polynomial(program, entry, variable, values)
        if poly is None:
            others.append(entry)
        elif poly.degree() > 0:
            polynomials.append(poly)
    roots = real_roots(polynomials)
    kinked = any(guards[entry] for entry in others)
    result = Cover()

    def state(box: Any) -> str:
        try:
            program.run(order, {**point, variable: box})
        except Undefined as stop:
            return "outside" if stop.args[0] in first else "undefined"
        except Unsure as stop:
            return "unsure" if stop.args[0] not in first else "unsure"
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
    start = float(low.mid()) if low.is_finite() else -float(FAR)
    stop = float(high.mid()) if high.is_finite() else float(FAR)
    near_low, near_high = max(start, min(-WINDOW, stop - WINDOW)), min(stop, max(WINDOW, start + WINDOW))
    if not kinked:
        start, stop = (start if low.is_finite() else near_low), (stop if high.is_finite() else near_high)
    cuts = {start, stop, *(c for c in (near_low, near_high) if start < c < stop)}
    for sign in (-1, 1):
        cuts |= {sign * c for c in (56.0, 448.0, 3584.0, 28672.0, 229376.0) if start < sign * c < stop}
    if not (low.is_finite() and high.is_finite()):
        result.window = f"{start:g} … {stop:g}"
    marks = sorted(cuts)
    stack = [(a, b) for a, b in zip(marks, marks[1:], strict=False)][::-1]
    run: tuple[float, float, str] | None = None
    count = 0
    while stack:
        a, b = stack.pop()
        count += 1
        if count > MAX_BOXES or monotonic() > deadline:
            raise Budget("too many pieces to look at")
        verdict = state(arb((a + b) / 2, (b - a) * 0.5000001))
        if verdict == "unsure":
            if b - a > max(FINE, abs(a) * FINE, 0):
                # Cut off the middle, so that special points at simple places are not met again and again.
                middle = a + (b - a) * 0.4823
                stack += [(middle, b), (a, middle)]
                continue
            if run:
                yield _finish(run)
            run = None
            continue
        if run and run[2] == verdict:
            run = (run[0], b, verdict)
        else:
            if run:
                yield _finish(run)
            run = (a, b, verdict)
    if run:
        yield _finish(run)


def _finish(run: tuple[float, float, str]) -> tuple[Any, Any, Fraction, str]:
    low, high = arb(run[0]), arb(run[1])
    return low, high, inside(low, high), run[2]
