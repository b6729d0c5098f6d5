"""The zeros of guards, and with them the ends of components: exactly where a guard is algebraic in the variable."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from flint import Ordering, arb, fmpq_mpoly_ctx, fmpq_poly

from ..arithmetic.program import Program
from ..arithmetic.tape import GUARDS, KINKED


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
