"""What the guards of a program are made of, and what is seen of their signs at once."""

from __future__ import annotations

from collections.abc import Iterable

from ..arithmetic.program import Program
from ..arithmetic.tape import GUARDS, KINKED, Op

ANY = frozenset((-1, 0, 1))


def guarded(program: Program, entries: Iterable[int]) -> dict[int, bool]:
    """The guards of some entries, and whether one is kinked: past its zero stands another function. (A divisor is, in an arctangent.)"""
    entries = sorted(set(entries))
    turned = frozenset(program.order(*(entry for entry in entries if program.ops[entry][0] == "arctan")))
    found: dict[int, bool] = {}
    for entry in entries:
        op = program.ops[entry]
        if op[0] in GUARDS:
            guard = op[GUARDS[op[0]]]
            found[guard] = found.get(guard, False) or op[0] in KINKED or entry in turned
    return found


def atoms(program: Program, entries: Iterable[int]) -> list[int]:
    """Entries at whose zeros alone some others vanish or have no value: their factors, above and below the line. Inner ones are first."""
    stack, seen, found = sorted(entries, reverse=True), set(), []
    while stack:
        entry = stack.pop()
        if entry in seen:
            continue
        seen.add(entry)
        kind = program.ops[entry][0]
        top, bottom = cleared(program, entry) if kind == "add" else (entry, entry)
        if kind in ("mul", "div", "abs", "pow", "root"):
            stack += program.parts(entry)
        elif top != entry:
            stack += top, bottom
        else:
            found.append(entry)
    known = signs(program, program.order(*found))
    return [entry for entry in found if 0 in known[entry] and not program.still[entry]]


def cleared(program: Program, goal: int) -> tuple[int, int]:
    """An entry as a numerator and a denominator, through the sums, products and quotients of which it is made."""
    order, one = program.order(goal), program.number(1)
    if all(program.ops[entry][0] != "div" or program.still[entry] for entry in order) or 0 not in signs(program, order)[goal]:
        return goal, one
    known: dict[int, tuple[int, int]] = {}
    for entry in order:
        kind = program.ops[entry][0]
        (a, b), (c, d) = (*(known[part] for part in program.parts(entry)), (entry, one), (entry, one))[:2]
        if kind == "add":
            a, c, b = (a, c, b) if b == d else (program.times(a, d), program.times(c, b), program.times(b, d))
            known[entry] = program.plus(a, c), b
        elif kind in ("mul", "div") and not program.still[entry]:
            c, d = (c, d) if kind == "mul" else (d, c)
            known[entry] = program.times(a, c), program.times(b, d)
        else:
            known[entry] = entry, one
    return known[goal]


def one_sided(program: Program, op: Op) -> bool:
    """Whether an operation has no value where its guard is negative, and the guard does not look as if it never were."""
    return (op[0] == "ln" or (op[0] == "root" and op[3] % 2 == 0)) and program.ops[op[1]][0] not in ("abs", "exp")


def signs(program: Program, order: list[int]) -> dict[int, frozenset[int]]:
    """The signs that some entries may have where they have a value, as far as it is seen of their shape."""
    return program.fold(order, lambda op, *parts: frozenset(_signs(op, *parts)))


def _signs(op: Op, a: frozenset[int] = ANY, b: frozenset[int] = ANY) -> Iterable[int]:
    even = op[0] == "abs" or (op[0] == "pow" and op[2] % 2 == 0) or (op[0] in ("mul", "div") and op[1] == op[2])
    match op[0]:
        case "num":
            return [(op[1] > 0) - (op[1] < 0)]
        case "exp" | "pi":
            return [1]
        case "add":
            return ANY if {1, -1} <= a | b else [max(s, t, key=abs) for s in a for t in b]
        case "mul" | "div" | "abs" | "pow" if even:
            return [s * s for s in a]
        case "mul" | "div":
            return [s * t for s in a for t in b]
        case "root" if op[3] % 2 == 0:
            return a - {-1}
        case "pow" | "root" | "sgn" | "arctan":
            return a
    return ANY
