"""A straight program: operations on earlier entries, equal ones stored once; and the derivatives of its entries.

Everything that can go wrong on the real line goes wrong at a *guard*: a divisor, a radicand, the argument of a logarithm or
absolute value.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Any, TypeVar

from flint import fmpq

from .stops import Budget, NotSupported

Op = tuple[Any, ...]
Found = TypeVar("Found")
MAX_OPS, FOLD_BITS, MAX_EXPONENT_BITS = 4000, 4096, 64

#: How many parts each operation has.
PARTS = {
    "num": 0, "pi": 0, "var": 0, "add": 2, "mul": 2, "div": 2, "pow": 1, "root": 1, "abs": 1, "sgn": 1, "exp": 1, "ln": 1, "sin": 1,
    "cos": 1, "arctan": 1, "integral": 2, "primitive": 2, "limit": 0,
}  # fmt: skip
#: The part that is a guard: it must not be zero inside a component.
GUARDS = {"root": 1, "abs": 1, "sgn": 1, "ln": 1, "div": 2}
#: Operations that are another analytic function on the other side of their guard's zero. (Past a pole it is the same one.)
KINKED = frozenset(("root", "abs", "sgn", "ln"))


class Tape:
    """Operations in order. An operation is its kind, then the entries that it uses, then what else it needs."""

    def __init__(self, variable: str = "") -> None:
        self.variable = variable
        self.ops: list[Op] = []
        self.still: list[bool] = []  # which entries are constants
        self._entry: dict[Op, int] = {}
        self._slopes: dict[tuple[int, str], int] = {}
        self._orders: dict[tuple[int, ...], list[int]] = {}

    def put(self, *op: Any) -> int:
        """The entry of an operation, a new one if there is none yet; rational arithmetic is done at once."""
        found = self._entry.get(op)
        if found is None:
            value = self._fold(op) if op[0] in ("add", "mul", "div", "pow") else None
            found = self._append(op) if value is None else self.number(value)
            self._entry[op] = found
        return found

    def _append(self, op: Op) -> int:
        if len(self.ops) >= MAX_OPS:
            raise Budget("too many operations")
        self.ops.append(op)
        self.still.append(op[0] != "var" and all(map(self.still.__getitem__, op[1 : 1 + PARTS[op[0]]])))
        return len(self.ops) - 1

    def number(self, value: Any) -> int:
        """The entry of a whole number, a fraction, or a rational number of FLINT's (whose hashes are slow)."""
        key = int(value.numerator), int(value.denominator)
        found = self._entry.get(key)
        if found is None:
            found = self._entry[key] = self._append(("num", fmpq(*key)))
        return found

    def _fold(self, op: Op) -> Any:
        a, b = self.exact(op[1]), fmpq(op[2]) if op[0] == "pow" else self.exact(op[2])
        if a is None or b is None or max(a.height_bits(), b.height_bits()) > FOLD_BITS:
            return None
        if op[0] == "pow":
            return a ** op[2] if a.height_bits() * op[2] <= FOLD_BITS else None
        return a + b if op[0] == "add" else a * b if op[0] == "mul" else a / b if b else None

    def exact(self, entry: int) -> Any:
        """The rational number that an entry is written as, if it is one."""
        op = self.ops[entry]
        return op[1] if op[0] == "num" else None

    def times(self, a: int, b: int) -> int:
        """A product in which an exact 0 or 1 is not kept: a factor of zero must not make trouble where the other has none."""
        x, y = self.exact(a), self.exact(b)
        return a if x == 0 or y == 1 else b if y == 0 or x == 1 else self.put("mul", a, b)

    def less(self, a: int, b: int) -> int:
        return self.plus(a, self.times(self.number(-1), b))

    def plus(self, a: int, b: int) -> int:
        return b if self.exact(a) == 0 else a if self.exact(b) == 0 else self.put("add", a, b)

    def over(self, a: int, b: int) -> int:
        return a if self.exact(a) == 0 else self.put("div", a, b)

    def _rational_power(self, base: int, exponent: Fraction) -> int:
        if max(abs(exponent.numerator), exponent.denominator).bit_length() > MAX_EXPONENT_BITS:
            raise Budget("an exponent is too large")
        if exponent < 0:
            return self.put("div", self.number(1), self._rational_power(base, -exponent))
        if exponent.denominator > 1:
            return self.put("root", base, exponent.numerator, exponent.denominator)
        return self.number(1) if exponent == 0 else base if exponent == 1 else self.put("pow", base, exponent.numerator)

    def slope(self, goal: int, x: str = "") -> int:
        """The entry of the derivative of an entry by the variable (or by another name). A primitive ∫g du has the slope g·u′."""
        x, zero = x or self.variable, self.number(0)
        for entry in self.order(goal):
            if (entry, x) not in self._slopes:
                slopes = [self._slopes[part, x] for part in self.parts(entry)]
                flat = slopes and all(s == zero for s in slopes)
                self._slopes[entry, x] = zero if flat else self._slope(entry, x, self.ops[entry], *slopes)
        return self._slopes[goal, x]

    def _slope(self, entry: int, x: str, op: Op, *slopes: int) -> int:
        """The rules of a first course (DLMF 1.4(iii), 4.7, 4.20, 4.24), from the slopes of the parts."""
        kind, u, v = (*op, 0, 0)[:3]
        du, dv = (*slopes, 0, 0)[:2]
        match kind:
            case "num" | "pi" | "sgn" | "var":
                return self.number(int(kind == "var" and u == x))
            case "add":
                return self.plus(du, dv)
            case "mul":
                return self.plus(self.times(du, v), self.times(u, dv))
            case "div":
                return self.over(self.less(du, self.times(entry, dv)), v)
            case "pow" | "root":
                n = Fraction(*op[2:])
                rest, factor = self._rational_power(u, abs(n - 1)), self.number(n)
                outer = self.times(factor, rest) if n > 1 else self.over(factor, rest)
            case "abs":
                outer = self.put("sgn", u)
            case "exp":
                outer = entry
            case "ln":
                inner = self.ops[u]
                return self.over(self._slopes[inner[1], x], inner[1]) if inner[0] == "abs" else self.over(du, u)
            case "sin":
                outer = self.put("cos", u)
            case "cos":
                outer = self.times(self.number(-1), self.put("sin", u))
            case "arctan":
                return self.over(du, self.put("add", self.number(1), self.put("pow", u, 2)))
            case "primitive":
                return self.times(u, dv)
            case _:
                raise NotSupported(kind)
        return self.times(outer, du)

    def parts(self, entry: int) -> tuple[int, ...]:
        """The entries that an operation uses."""
        op = self.ops[entry]
        return op[1 : 1 + PARTS[op[0]]]

    def fold(self, order: Iterable[int], rule: Callable[..., Found]) -> dict[int, Found]:
        """What a rule makes of each entry, from its operation and from what it makes of the parts."""
        known: dict[int, Found] = {}
        for entry in order:
            known[entry] = rule(self.ops[entry], *(known[part] for part in self.parts(entry)))
        return known

    def order(self, *wanted: int) -> list[int]:
        """The entries that the wanted ones need, each after its parts; those of an earlier one before those of a later."""
        found = self._orders.get(wanted)
        if found is None:
            found, done = [], set()
            for goal in wanted:
                start, stack = len(found), [goal]
                while stack:
                    entry = stack.pop()
                    if entry not in done:
                        done.add(entry)
                        found.append(entry)
                        stack += self.parts(entry)
                found[start:] = sorted(found[start:])
            self._orders[wanted] = found
        return found
