"""Where expressions are defined and analytic: the components of a domain, by exact roots of guards or by bisection with balls."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby, pairwise
from time import monotonic
from typing import Any

from flint import Ordering, arb, fmpq_mpoly_ctx, fmpq_poly

from ..notation.build import ONE, PI, multiply, number
from ..notation.tree import Infinity, Interval, Negative, Node, Region, Union
from .field import vanishes
from .program import GUARDS, KINKED, Budget, Program, Undefined, Unsure, ball

#: How far out and how finely bisection looks where guards are not polynomials.
WINDOW, FAR, FINE, FINEST, MAX_BOXES = 4, 10**6, 2.0**-9, 2.0**-36, 6000
INFINITY = arb.pos_inf()


@dataclass(slots=True)
class Piece:
    """A component: the open interval between two ends (balls), and a rational point in it."""

    lower: Any
    upper: Any
    sample: Fraction


@dataclass(slots=True)
class Cover:
    """The components found, the special points between two of them, the first place where only the reference is defined.

    `window`: how far out was looked, if not everywhere. `unresolved`: there may be a sliver with another sign pattern.
    """

    pieces: list[Piece] = field(default_factory=list)
    between: list[Any] = field(default_factory=list)
    undefined: Fraction | None = None
    window: str = ""
    unresolved: bool = False


def ends(domain: Region | None, bound: Mapping[str, Node]) -> list[tuple[Any, Any]]:
    """The intervals of a region as pairs of balls, infinite ends included."""
    parts: tuple[Interval, ...] = domain.parts if isinstance(domain, Union) else () if domain is None else (domain,)
    program = Program("", bound)

    def end(node: Node) -> Any:
        if isinstance(node, Infinity) or node == Negative(Infinity()):
            return INFINITY if isinstance(node, Infinity) else -INFINITY
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
        elif least_sign(program, entry) < 1 and not program.still[entry]:
            found[entry] = found.get(entry, False) or kinked

    for entry in entries:
        op = program.ops[entry]
        if op[0] in GUARDS:
            strip(op[GUARDS[op[0]]], op[0] in KINKED)
    return found


def least_sign(program: Program, entry: int) -> int:
    """What the shape of an entry shows of its sign wherever it is defined: 1 positive, 0 not negative, -1 unknown."""
    op = program.ops[entry]
    signs = [least_sign(program, part) for part in program.parts(entry)]
    match op[0]:
        case "num":
            return 1 if op[1] > 0 else 0 if op[1] == 0 else -1
        case "exp" | "pi":
            return 1
        case "add":
            return max(signs) if min(signs) >= 0 else -1
        case "mul" | "div":
            return max(min(signs), 0 if op[1] == op[2] else -1)
        case "abs":
            return 0
        case "pow" | "root":
            even = op[2] % 2 == 0 if op[0] == "pow" else op[3] % 2 == 0
            return max(signs[0], 0) if even else signs[0]
    return -1


ALGEBRA = fmpq_mpoly_ctx.get(["x", *(f"r{i}" for i in range(5))], Ordering.lex)


def polynomial(program: Program, goal: int) -> Any | None:
    """A polynomial in the variable over Q among whose zeros are those of an entry, if the entry is algebraic in it; else None.

    Roots and absolute values are unknowns, eliminated at the end by resultants.
    """
    x, *unknowns = ALGEBRA.gens()
    relations: list[tuple[str, Any]] = []
    known: dict[int, tuple[Any, Any]] = {}
    one = ALGEBRA.constant(1)
    for entry in program.order(goal):
        op = program.ops[entry]
        a, b = (*(known[part] for part in program.parts(entry)), (one, one), (one, one))[:2]
        if op[0] == "num":
            result = ALGEBRA.constant(op[1]), one
        elif op[0] == "var" and op[1] == program.variable:
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
    factors = {}
    for poly in polynomials:
        terms = {int(m[0]): c for m, c in poly.to_dict().items()}
        univariate = fmpq_poly([terms.get(k, 0) for k in range(max(terms) + 1)])
        for p in [univariate] if univariate.degree() < 2 else [f for f, _ in univariate.factor()[1]]:
            monic = p / p[p.degree()]
            factors[str(monic)] = monic
    roots = []
    for p in factors.values():
        if p.degree() == 1:
            roots.append(arb(-p[0]))
        elif p.degree() > 1:
            found: Any = p.numer().complex_roots()
            roots += [r.real for r, _ in found if r.imag == 0]
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
    mantissa, exponent = ((lower + upper) / 2).mid().man_exp() if lower.is_finite() and upper.is_finite() else (0, 0)
    exact = Fraction(int(mantissa)) * Fraction(2) ** int(exponent)
    if lower < ball(exact) < upper:
        return exact
    raise Unsure(-1)


def cover(
    program: Program, reference: tuple[int, ...], wanted: tuple[int, ...], compared: int, domain: list[tuple[Any, Any]],
    fixed: Mapping[str, Any], deadline: float,
) -> Cover:  # fmt: skip
    """The components on which the reference and the wanted entries are analytic.

    Only kinks of the entry `compared` matter for what is said of whole components. Stops at the first place where the reference
    is surely defined and a wanted entry surely is not.
    """
    order = program.order(*reference, *wanted)
    first = frozenset(program.order(*reference))
    sorted_out = {entry: polynomial(program, entry) for entry in atoms(program, order)}
    polynomials = [poly for poly in sorted_out.values() if poly is not None]
    others = len(polynomials) < len(sorted_out)
    kinks = [entry for entry, kinked in atoms(program, program.order(compared)).items() if kinked and sorted_out[entry] is None]
    roots = real_roots(polynomials)
    result = Cover()

    def state(box: Any) -> str:
        try:
            program.run(order, {**fixed, program.variable: box})
        except Undefined as stop:
            return "outside" if stop.args[0] in first else "undefined"
        except Unsure:
            return "unsure"
        return "fine"

    for lower, upper in domain:
        joined = False
        marks = [lower, *(r for r in roots if r > lower and r < upper), upper]
        for low, high in pairwise(marks):
            if others:
                found = Bisection(program, state, kinks, fixed, deadline, result).runs(low, high)
            else:
                sample = inside(low, high)
                found = iter([(low, high, sample, state(ball(sample)))])
            for a, b, sample, verdict in found:
                if verdict == "undefined":
                    result.undefined = sample
                    return result
                if verdict == "fine":
                    if joined:
                        result.between.append((result.pieces[-1].upper, a))
                    result.pieces.append(Piece(a, b, sample))
                joined = verdict == "fine"
    return result


@dataclass(slots=True)
class Bisection:
    """Looking at an interval box by box, where guards are not polynomials. `kinks` are such guards behind which signs may change."""

    program: Program
    state: Callable[[Any], str]
    kinks: list[int]
    fixed: Mapping[str, Any]
    deadline: float
    result: Cover

    def runs(self, low: Any, high: Any) -> Iterator[tuple[Any, Any, Fraction, str]]:
        """Runs of boxes with one verdict, from left to right, with a sample of each."""
        start, stop = float(low.mid()), float(high.mid())
        left = start if low.is_finite() else min(-WINDOW, stop - 2 * WINDOW)
        right = stop if high.is_finite() else max(WINDOW, start + 2 * WINDOW)
        boxes = self.boxes(left, right, MAX_BOXES)
        if boxes is None:
            raise Budget("too many pieces to look at")
        # Past a pole an expression goes on as the same function: only where there are kinks has one to look far out.
        while self.kinks and not low.is_finite() and left > -FAR and (more := self.boxes(8 * left, left, 60)):
            boxes, left = more + boxes, 8 * left
        while self.kinks and not high.is_finite() and right < FAR and (more := self.boxes(right, 8 * right, 60)):
            boxes, right = boxes + more, 8 * right
        if not (low.is_finite() and high.is_finite()):
            self.result.window = f"{left:g} … {right:g}"
        for (verdict, _), group in groupby(boxes, key=lambda box: (box[2], box[2] == "unsure" and box[0])):
            run = list(group)
            a, b = arb(run[0][0]), arb(run[-1][1])
            if verdict != "unsure":
                yield a, b, inside(a, b), verdict

    def boxes(self, left: float, right: float, limit: int) -> list[tuple[float, float, str]] | None:
        """The boxes of an interval with their verdicts, from left to right; None if it takes too many."""
        stack, boxes, count = [(left, right)], [], 0
        while stack:
            a, b = stack.pop()
            count += 1
            if count > limit or monotonic() > self.deadline:
                return None
            box = arb((a + b) / 2, (b - a) * 0.5000001)
            verdict = self.state(box)
            width = (b - a) / max(1.0, abs(a), abs(b))
            settled = verdict != "unsure" or (width <= FINE and self.settled(box))
            if settled or width <= FINEST:
                boxes.append((a, b, verdict))
                self.result.unresolved |= not settled
            else:
                middle = a + (b - a) * 0.4823  # not the half: special points stand at simple places and should not be met again
                stack += [(middle, b), (a, middle)]
        return boxes

    def value(self, entry: int, box: Any) -> Any:
        try:
            return self.program.run(self.program.order(entry), {**self.fixed, self.program.variable: box}, strict=False)[entry]
        except (Undefined, Unsure):
            return arb("nan")

    def may_vanish(self, entry: int, box: Any) -> bool:
        """Whether an entry may be zero in a box, also by the mean value theorem, which sees more near a double zero."""
        middle = box.mid()
        return bool(
            self.value(entry, box).contains(0)
            and (self.value(entry, middle) + self.value(self.program.slope(entry), box) * (box - middle)).contains(0)
        )

    def settled(self, box: Any) -> bool:
        """Whether signs change at one point of a box at most: at the only zero of the only guard, or all at one exactly known."""
        zeros = [guard for guard in self.kinks if self.may_vanish(guard, box)]
        flat = [slope for slope in map(self.program.slope, zeros) if self.value(slope, box).contains(0)]
        if not zeros or (len(zeros) == 1 and not flat):
            return True
        curved = not any(self.value(self.program.slope(slope), box).contains(0) for slope in flat)
        return curved and exact_place(self.program, [*zeros, *flat], box, self.deadline) is not None


def exact_place(program: Program, guards: list[int], spot: Any, deadline: float) -> Node | None:
    """A simple number or multiple of π in a ball at which some guards are all exactly zero."""
    for here, unit in ((spot, ONE), (spot / arb.pi(), PI)):
        guess = Fraction(float(here.mid())).limit_denominator(60)
        if here.overlaps(ball(guess)):
            place = multiply(number(guess), unit)
            if all(_zero_at(program, guard, place, deadline) for guard in guards):
                return place
    return None


def _zero_at(program: Program, guard: int, place: Node, deadline: float) -> bool:
    at = Program("", {**program.bound, program.variable: place})
    try:
        entry = at.copy(program, guard)
        at.run(at.order(entry), {}, strict=False)
    except (Undefined, Unsure, KeyError):
        return False
    return vanishes(at, entry, {}, {}, deadline)
