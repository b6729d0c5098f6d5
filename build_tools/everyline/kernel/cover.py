"""Where expressions are defined and analytic: the components of a domain, by exact roots of algebraic guards or by bisection."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from typing import Any

from flint import Ordering, arb, fmpq_mpoly_ctx, fmpq_poly

from ..arithmetic.balls import ball, run, value
from ..arithmetic.program import Program
from ..arithmetic.stops import Undefined, Unsure
from ..arithmetic.tape import GUARDS, KINKED, Op
from ..notation.tree import Infinity, Interval, Negative, Node, Region, Union
from .bisection import Bisection, inside

INFINITY = arb.pos_inf()
ALGEBRA = fmpq_mpoly_ctx.get(["x", *(f"r{i}" for i in range(5))], Ordering.lex)


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


def infinite(node: Node) -> int:
    """1 for infinity, -1 for minus infinity, 0 for a number."""
    return 1 if isinstance(node, Infinity) else -1 if node == Negative(Infinity()) else 0


def ends(domain: Region | None, bound: Mapping[str, Node]) -> list[tuple[Any, Any]]:
    """The intervals of a region as pairs of balls, infinite ends included."""
    parts: tuple[Interval, ...] = domain.parts if isinstance(domain, Union) else () if domain is None else (domain,)
    program = Program("", bound)

    def end(node: Node) -> Any:
        return infinite(node) * INFINITY if infinite(node) else value(program, program.add(node), {})

    return [(end(p.lower), end(p.upper)) for p in parts] or [(-INFINITY, INFINITY)]


def cover(
    program: Program, reference: tuple[int, ...], wanted: tuple[int, ...], compared: int, domain: list[tuple[Any, Any]],
    fixed: Mapping[str, Any], deadline: float,
) -> Cover:  # fmt: skip
    """The components on which entries are analytic, and with them their derivatives, of which `compared` is made.

    Only kinks of `compared` matter for what is said of whole components, and where a wanted entry alone may be undefined. Stops at
    the first place where the reference is surely defined and a wanted entry surely is not.
    """
    order = program.order(*reference, *wanted)
    first = frozenset(program.order(*reference))
    sorted_out = {entry: polynomial(program, entry) for entry in atoms(program, program.order(*reference, *wanted, compared))}
    polynomials = [poly for poly in sorted_out.values() if poly is not None]
    others = len(polynomials) < len(sorted_out)
    kinks = []
    if others:
        kinked = {entry for entry, kinked in atoms(program, program.order(compared)).items() if kinked}
        kinked.update(atoms(program, [entry for entry in order if entry not in first and one_sided(program, program.ops[entry])]))
        kinks = [entry for entry in sorted(kinked) if sorted_out[entry] is None]
    roots = real_roots(polynomials)
    result = Cover()

    def state(box: Any) -> str:
        try:
            run(program, order, {**fixed, program.variable: box})
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
                search = Bisection(program, state, kinks, fixed, deadline)
                found = search.runs(low, high)
                result.window, result.unresolved = search.window or result.window, result.unresolved or search.unresolved
            else:
                sample = inside(low, high)
                found = [(low, high, sample, state(ball(sample)))]
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


def atoms(program: Program, entries: Iterable[int]) -> dict[int, bool]:
    """What the guards of some entries are made of, as entries whose zeros are all that matters; and whether one is kinked."""
    found: dict[int, bool] = {}
    for op in (program.ops[entry] for entry in entries):
        if op[0] in GUARDS:
            guard = op[GUARDS[op[0]]]
            found[guard] = found.get(guard, False) or op[0] in KINKED
    for entry in range(max(found, default=0), -1, -1):
        op = program.ops[entry]
        if entry in found and op[0] in ("mul", "div", "abs", "pow", "root"):
            kinked = found.pop(entry)
            for part in op[1:3] if op[0] == "mul" else op[1:2]:
                found[part] = found.get(part, False) or kinked
    known = signs(program, program.order(*found))
    return {entry: kinked for entry, kinked in found.items() if known[entry] < 1 and not program.still[entry]}


def one_sided(program: Program, op: Op) -> bool:
    """Whether an operation has no value where its guard is negative, and the guard does not look as if it never were."""
    return (op[0] == "ln" or (op[0] == "root" and op[3] % 2 == 0)) and program.ops[op[1]][0] not in ("abs", "exp")


def signs(program: Program, order: list[int]) -> dict[int, int]:
    """What is seen of the signs of some entries."""
    known: dict[int, int] = {}
    for entry in order:
        known[entry] = least_sign(program.ops[entry], [known[part] for part in program.parts(entry)])
    return known


def least_sign(op: Op, signs: list[int]) -> int:
    """What the shape of an operation, and the signs of its parts, show of its sign: 1 positive, 0 not negative, -1 unknown."""
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
