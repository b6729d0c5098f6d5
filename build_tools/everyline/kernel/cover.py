"""Where expressions are defined and analytic: the components of a domain, by exact roots of algebraic guards or by bisection."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from math import inf, isfinite
from typing import Any

from flint import Ordering, arb, fmpq_mpoly_ctx, fmpq_poly

from ..arithmetic.balls import ball, run, value
from ..arithmetic.program import Program
from ..arithmetic.stops import Undefined, Unsure
from ..notation.build import infinite, number
from ..notation.tree import Node, Region, Union
from .guards import atoms, guarded, one_sided
from .zeros import Mark, Search

INFINITY = arb.pos_inf()
ALGEBRA = fmpq_mpoly_ctx.get(["x", *(f"r{i}" for i in range(5))], Ordering.lex)


@dataclass(slots=True)
class Cover:
    """The components found: open intervals, their ends as balls, and a rational point in each. The special points between two of them.

    `outside`: a place where the reference is not defined; `undefined`: one where only it is.
    `window`: how far out was looked, if not everywhere. `unresolved`: there may be a sliver with another sign pattern. `kinked`: the
    function compared is not the same one on all of them.
    """

    pieces: list[tuple[Any, Any, Fraction]] = field(default_factory=list)
    between: list[Mark] = field(default_factory=list)
    outside: Fraction | None = None
    undefined: Fraction | None = None
    window: str = ""
    unresolved: bool = False
    kinked: bool = False


def ends(domain: Region | None, bound: Mapping[str, Node]) -> list[tuple[Mark, Mark]]:
    """The intervals of a region as pairs of marks, infinite ends included."""
    if domain is None:
        return [(Mark(-INFINITY), Mark(INFINITY))]
    program = Program("", bound)

    def end(node: Node) -> Mark:
        return Mark(infinite(node) * INFINITY) if infinite(node) else Mark(value(program, program.add(node), {}), node)

    return [(end(p.lower), end(p.upper)) for p in (domain.parts if isinstance(domain, Union) else (domain,))]


def cover(
    program: Program, reference: tuple[int, ...], wanted: tuple[int, ...], compared: int, domain: list[tuple[Mark, Mark]],
    fixed: Mapping[str, Any], deadline: float, every: bool = False,
) -> Cover:  # fmt: skip
    """The components on which entries are analytic, and with them their derivatives, of which `compared` is made.

    Only kinks of `compared` matter for what is said of whole components, and where a wanted entry alone may be undefined. Stops at
    the first place where the reference is surely defined and a wanted entry surely is not. `every`: all special points are looked for
    one by one, as kinks are.
    """
    order, first = program.order(*reference, *wanted), frozenset(program.order(*reference))
    parts = atoms(program, guarded(program, [*order, *program.order(compared)]))
    bends = atoms(program, [guard for guard, kinked in guarded(program, program.order(compared)).items() if kinked])
    alone = atoms(program, guarded(program, [entry for entry in order if entry not in first and one_sided(program, program.ops[entry])]))
    made = {atom: polynomial(program, atom) for atom in parts}
    others = [atom for atom in parts if made[atom] is None]
    kinks = {atom for atom in (parts if every else bends + alone) if made[atom] is None}
    roots, result = real_roots([poly for poly in made.values() if poly is not None]), Cover(kinked=bool(bends))

    def state(at: Any) -> str:
        try:
            run(program, order, {**fixed, program.variable: at})
        except Undefined as stop:
            return "outside" if stop.args[0] in first else "undefined"
        except Unsure:
            return "unsure"
        return "fine"

    for lower, upper in domain:
        search = Search(program, fixed, deadline, set(made).difference(others))
        marks = [lower, *(r for r in roots if r.ball > lower.ball and r.ball < upper.ball), upper]
        left, right = -inf, inf
        for atom in others:
            far = True
            for low, high in list(pairwise(marks)):
                if low.ball < high.ball and search.value(atom, ball(inside(low.ball, high.ball))).is_finite():
                    found, a, b = search.zeros(atom, low, high, bool(kinks))
                    marks, left, right = marks + found, max(left, a), min(right, b)
                    far = far and a == -inf and b == inf
            marks.sort(key=lambda mark: float(mark.ball.mid()))
            if far:
                search.known.add(atom)
        if left > -inf or right < inf:
            result.window = f"{left:g} … {right:g}".replace("inf", "∞")
            inner = [mark for mark in marks if mark.ball > left and mark.ball < right]
            result.unresolved |= not search.repeats(kinks)
            marks = [lower if left == -inf else Mark(arb(left)), *inner, upper if right == inf else Mark(arb(right))]
        result.unresolved |= search.unresolved
        between: list[Mark] | None = None
        for low, high in pairwise(marks):
            between = None if between is None else [*between, low]
            if not low.ball < high.ball:
                result.unresolved |= bool(kinks)
                continue
            sample = inside(low.ball, high.ball)
            verdict = state(ball(sample))
            if verdict == "undefined":
                result.undefined = sample
                return result
            if verdict == "fine":
                result.between += between or []
                result.pieces.append((low.ball.upper(), high.ball.lower(), sample))
            result.outside = sample if verdict == "outside" else result.outside
            result.unresolved |= verdict == "unsure"
            between = [] if verdict == "fine" else None
    return result


def inside(lower: Any, upper: Any) -> Fraction:
    """A short rational number between two balls, away from the middle and from round numbers."""
    low, high = float(lower.upper()), float(upper.lower())
    low = max(low, min(high, 0) - 6.5)
    high = min(high, max(low, 0) + 6.5)
    wanted = low + (high - low) * 0.5897
    for bound in (1, 7, 30, 1000, 10**6, 10**12) if isfinite(wanted) else ():
        guess = Fraction(wanted).limit_denominator(bound) if bound > 1 else Fraction(round(wanted * 7), 7)
        if lower < ball(guess) < upper and (bound > 1 or high - low > 1):
            return guess
    mantissa, exponent = ((lower + upper) / 2).mid().man_exp() if lower.is_finite() and upper.is_finite() else (0, 0)
    exact = Fraction(int(mantissa)) * Fraction(2) ** int(exponent)
    if lower < ball(exact) < upper:
        return exact
    raise Unsure


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


def real_roots(polynomials: list[Any]) -> list[Mark]:
    """The distinct real roots of some polynomials in order."""
    whole, roots = fmpq_poly([1]), []
    for poly in polynomials:
        terms = {int(m[0]): c for m, c in poly.to_dict().items()}
        whole *= fmpq_poly([terms.get(k, 0) for k in range(max(terms) + 1)])
    for p, _ in whole.factor()[1]:
        if p.degree() == 1:
            exact = -p[0] / p[1]
            roots.append(Mark(arb(exact), number(Fraction(int(exact.p), int(exact.q)))))
        else:
            found: Any = p.numer().complex_roots()
            roots += [Mark(r.real) for r, _ in found if r.imag == 0]
    return sorted(roots, key=lambda mark: float(mark.ball.mid()))
