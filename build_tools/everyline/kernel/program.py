"""Trees as straight programs of a few operations; their derivatives, and their values as balls (which surely hold the true value).

A `Program` is a list of operations on earlier entries, equal ones stored once; several trees share one program. Everything that
can go wrong on the real line goes wrong at a *guard*: a divisor, a radicand, the argument of a logarithm or absolute value.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from flint import acb, arb, fmpq

from ..notation.build import ONE, PI, TWO, E, add, divide, multiply, names, negate, substitute, subtract
from ..notation.tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Derivative,
    Evaluation,
    Integral,
    Limit,
    Logarithm,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)  # fmt: skip

Op = tuple[Any, ...]
Values = list[Any]
Point = Mapping[str, Any]
MAX_OPS, FOLD_BITS, MAX_EXPONENT_BITS = 4000, 4096, 64
NARROW = arb(2) ** -20


class NotSupported(Exception):
    """A part of a tree that the checker has no rule for; the text says which."""


class Budget(Exception):
    """The claim is too large for the limits of the checker, or its time is over."""


class Undefined(Exception):
    """The expression surely has no real value: everywhere in the box, at entry `args[0]`."""


class Unsure(Exception):
    """The guard `args[1]` of entry `args[0]` may be zero somewhere in the box; nothing can be said yet."""


#: Functions that are written with others; exp, ln, sin, cos, arctan and sgn are operations of their own.
LOWERED: dict[str, Callable[[Node], Node]] = {
    "tan": lambda u: divide(Call("sin", u), Call("cos", u)),
    "sec": lambda u: divide(ONE, Call("cos", u)),
    "csc": lambda u: divide(ONE, Call("sin", u)),
    "cot": lambda u: divide(Call("cos", u), Call("sin", u)),
    # Half angles: real and exact on the closed interval, ends included (from DLMF 4.21.8).
    "arcsin": lambda u: multiply(TWO, Call("arctan", divide(u, add(ONE, Root(subtract(ONE, Power(u, TWO))))))),
    "arccos": lambda u: subtract(divide(PI, TWO), Call("arcsin", u)),
    "arcsec": lambda u: Call("arccos", divide(ONE, u)),
    "arccsc": lambda u: Call("arcsin", divide(ONE, u)),
    "arccot": lambda u: subtract(divide(PI, TWO), Call("arctan", u)),
    "sinh": lambda u: divide(subtract(Call("exp", u), Call("exp", negate(u))), TWO),
    "cosh": lambda u: divide(add(Call("exp", u), Call("exp", negate(u))), TWO),
    "tanh": lambda u: divide(Call("sinh", u), Call("cosh", u)),
    "sech": lambda u: divide(ONE, Call("cosh", u)),
    "csch": lambda u: divide(ONE, Call("sinh", u)),
    "coth": lambda u: divide(Call("cosh", u), Call("sinh", u)),
    "arsinh": lambda u: Call("ln", add(u, Root(add(ONE, Power(u, TWO))))),
    "arcosh": lambda u: Call("ln", add(u, Root(subtract(Power(u, TWO), ONE)))),
    "artanh": lambda u: divide(Call("ln", divide(add(ONE, u), subtract(ONE, u))), TWO),
    "arsech": lambda u: Call("arcosh", divide(ONE, u)),
    "arcsch": lambda u: Call("arsinh", divide(ONE, u)),
    "arcoth": lambda u: Call("artanh", divide(ONE, u)),
}
#: How many parts each operation has.
PARTS = {
    "num": 0, "pi": 0, "var": 0, "add": 2, "mul": 2, "div": 2, "pow": 1, "root": 1, "abs": 1, "sgn": 1, "exp": 1, "ln": 1, "sin": 1,
    "cos": 1, "arctan": 1, "integral": 2, "primitive": 2, "limit": 0,
}  # fmt: skip
#: The part that is a guard: it must not be zero inside a component.
GUARDS = {"root": 1, "abs": 1, "sgn": 1, "ln": 1, "div": 2}
#: Operations that are another analytic function on the other side of their guard's zero. (Past a pole it is the same one.)
KINKED = frozenset(("root", "abs", "sgn", "ln"))


class Program:
    """Operations in order; `add` returns the entry of a tree. `bound` gives names their trees, in terms of `variable`."""

    def __init__(self, variable: str = "", bound: Mapping[str, Node] | None = None) -> None:
        self.variable, self.bound = variable, dict(bound or {})
        self.ops: list[Op] = []
        self.still: list[bool] = []  # which entries are constants
        self._entry: dict[Op, int] = {}
        self._seen: dict[int, tuple[Node, int]] = {}
        self._slopes: dict[tuple[int, str], int] = {}
        self._orders: dict[tuple[int, ...], list[int]] = {}

    def put(self, *op: Any) -> int:
        """The entry of an operation, a new one if there is none yet; rational arithmetic is done at once."""
        found = self._entry.get(op)
        if found is None:
            if len(self.ops) >= MAX_OPS:
                raise Budget("too many operations")
            value = self._fold(op) if op[0] in ("add", "mul", "div", "pow") else None
            if value is not None:
                found = self.put("num", value)
            else:
                found = len(self.ops)
                self.ops.append(op)
                self.still.append(op[0] != "var" and all(self.still[part] for part in self.parts(found)))
            self._entry[op] = found
        return found

    def number(self, value: Fraction | int) -> int:
        return self.put("num", rational(value))

    def _fold(self, op: Op) -> Any:
        a, b = self.exact(op[1]), fmpq(op[2]) if op[0] == "pow" else self.exact(op[2])
        if a is None or b is None or max(_bits(a), _bits(b)) > FOLD_BITS:
            return None
        if op[0] == "pow":
            return a ** op[2] if _bits(a) * op[2] <= FOLD_BITS else None
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

    def add(self, node: Node) -> int:
        """The entry of a tree. Raises `NotSupported` for what has no value and `Budget` when it is too large."""
        known = self._seen.get(id(node))
        if known is None:
            known = self._seen[id(node)] = (node, self._add(node))
        return known[1]

    def _add(self, node: Node) -> int:
        match node:
            case Number(value):
                return self.number(value)
            case Constant(name):
                return self.put("pi") if name == "pi" else self.put("exp", self.number(1))
            case Name(name):
                return self.add(self.bound[name]) if name in self.bound else self.put("var", name)
            case ArbitraryConstant(name):
                return self.put("var", "constant " + name)
            case Negative(u):
                return self.put("mul", self.number(-1), self.add(u))
            case Sum(parts) | Product(parts):
                entry = self.add(parts[0])
                for part in parts[1:]:
                    entry = self.put("add" if isinstance(node, Sum) else "mul", entry, self.add(part))
                return entry
            case Quotient(u, v):
                return self.put("div", self.add(u), self.add(v))
            case Power(u, n):
                return self._power(u, n)
            case Root(u, n):
                return self._rational_power(self.add(u), Fraction(1, n))
            case Absolute(u):
                return self.put("abs", self.add(u))
            case Call(function, u) if function in LOWERED:
                return self.add(LOWERED[function](u))
            case Call(function, u) if function in PARTS:
                return self.put(function, self.add(u))
            case Logarithm(base, u):
                return self.put("div", self.put("ln", self.add(u)), self.put("ln", self.add(base)))
        return self._add_calculus(node)

    def _add_calculus(self, node: Node) -> int:
        match node:
            case Evaluation(body, variable, lower, upper):
                return self.less(*(self.add(substitute(body, {variable: end})) for end in (upper, lower)))
            case Derivative(body, variable, order):
                entry = self.add(body)
                for _ in range(order):
                    # By a bound name u: the derivative by the variable over that of u.
                    bound = variable in self.bound
                    entry = self.over(self.slope(entry), self.slope(self.add(Name(variable)))) if bound else self.slope(entry, variable)
                return entry
            case Integral(body, variable, None, None):
                return self.put("primitive", self.add(body), self.add(Name(variable)))
            case Integral(body, variable, Node() as lower, Node() as upper):
                return self.put("integral", self.add(lower), self.add(upper), body, variable, lower, upper)
            case Limit(body, variable, point, side):
                return self.put("limit", body, variable, point, side)
        raise NotSupported(type(node).__name__)

    def _power(self, u: Node, n: Node) -> int:
        if u == E:
            return self.put("exp", self.add(n))
        exponent = self.add(n)
        exact = self.exact(exponent)
        if exact is not None:
            return self._rational_power(self.add(u), Fraction(int(exact.p), int(exact.q)))
        return self.put("exp", self.put("mul", exponent, self.put("ln", self.add(u))))

    def _rational_power(self, base: int, exponent: Fraction) -> int:
        if _bits(exponent) > MAX_EXPONENT_BITS:
            raise Budget("an exponent is too large")
        if exponent < 0:
            return self.put("div", self.number(1), self._rational_power(base, -exponent))
        if exponent.denominator > 1:
            return self.put("root", base, exponent.numerator, exponent.denominator)
        return self.number(1) if exponent == 0 else base if exponent == 1 else self.put("pow", base, exponent.numerator)

    def slope(self, goal: int, x: str = "") -> int:
        """The entry of the derivative of an entry by the variable (or by another name). A primitive ∫g du has the slope g·u′."""
        x = x or self.variable
        for entry in self.order(goal):
            if (entry, x) not in self._slopes:
                op = self.ops[entry]
                slopes = [self._slopes[part, x] for part in self.parts(entry)]
                flat = slopes and all(self.exact(s) == 0 for s in slopes)
                self._slopes[entry, x] = self.number(0) if flat else self._slope(entry, x, op, *slopes)
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
                if x in names(op[3]) - {op[4]}:
                    raise NotSupported("an integral whose integrand depends on what it is differentiated by")
                ends = (self.times(self.add(substitute(op[3], {op[4]: end})), d) for end, d in zip(op[:4:-1], (dv, du), strict=True))
                return self.less(*ends)
        return self.times(outer, du)

    def copy(self, other: Program, goal: int) -> int:
        """The entry of another program's entry, with this program's trees for names."""
        new: dict[int, int] = {}
        for entry in other.order(goal):
            op = other.ops[entry]
            parts = [new[part] for part in other.parts(entry)]
            new[entry] = self.add(Name(op[1])) if op[0] == "var" else self.put(op[0], *parts, *op[1 + len(parts) :])
        return new[goal]

    def parts(self, entry: int) -> tuple[int, ...]:
        """The entries that an operation uses."""
        op = self.ops[entry]
        return op[1 : 1 + PARTS[op[0]]]

    def order(self, *wanted: int) -> list[int]:
        """The entries that the wanted ones need, each after its parts; those of an earlier one before those of a later."""
        if wanted not in self._orders:
            done: dict[int, None] = {}
            for goal in wanted:
                need, stack = set(), [goal]
                while stack:
                    entry = stack.pop()
                    if entry not in need and entry not in done:
                        need.add(entry)
                        stack += self.parts(entry)
                done.update(dict.fromkeys(sorted(need)))
            self._orders[wanted] = list(done)
        return self._orders[wanted]

    def run(self, order: list[int], point: Point, strict: bool = True) -> Values:
        """The balls of the entries in `order` where each variable is a ball.

        `strict`: every entry is analytic on the whole box. Else it is only continuous where it is defined: a radicand may
        touch zero. Raises `Undefined` or `Unsure`, their first argument the entry that failed, the second its guard.
        """
        values: Values = [None] * len(self.ops)
        for entry in order:
            op = self.ops[entry]
            kind = op[0]
            if kind in GUARDS and not (u := values[op[GUARDS[kind]]]) > 0:
                if (u < 0 and (kind == "ln" or (kind == "root" and op[3] % 2 == 0))) or (u == 0 and kind in ("ln", "div")):
                    raise Undefined(entry, op[GUARDS[kind]])
                if not u < 0 and ((strict and not self.still[entry]) or kind in ("ln", "div") or u.is_nan()):
                    raise Unsure(entry, op[GUARDS[kind]])
            values[entry] = RULES[kind](values, op, point)
        return values


def rational(value: Fraction | int) -> Any:
    return fmpq(value.numerator, value.denominator)


def ball(value: Fraction | int) -> Any:
    """A rational number as a ball."""
    return arb(fmpq(value.numerator, value.denominator))


def _bits(value: Any) -> int:
    top, bottom = (value.numerator, value.denominator) if isinstance(value, Fraction) else (int(value.p), int(value.q))
    return max(abs(top).bit_length(), bottom.bit_length())


def monotone(function: Callable[[Any], Any], here: Any) -> Any:
    """An increasing function on a ball: through its ends when it is wide, for arithmetic in the middle widens too much."""
    if here.rad() <= here.abs_lower() * NARROW:
        return function(here)
    return function(here.lower()).union(function(here.upper()))


def whole_power(here: Any, exponent: int) -> Any:
    if here.rad() <= here.abs_lower() * NARROW:
        return here**exponent
    if exponent % 2:
        return monotone(lambda u: u**exponent, here)
    return (here.abs_lower() ** exponent).union(here.abs_upper() ** exponent)


def _root(v: Values, op: Op, point: Point) -> Any:
    _, i, p, q = op

    def positive(w: Any) -> Any:
        return monotone(lambda u: u if u.is_zero() else u.root(q) ** p, w)  # Arb has no q-th root of 0 for q > 2

    if v[i] > 0:
        return positive(v[i])
    if v[i] < 0:
        return positive(-v[i]) * (-1) ** p
    right = positive(v[i].nonnegative_part().upper()).union(arb(0))
    return right if q % 2 == 0 else right.union(positive((-v[i]).nonnegative_part().upper()) * (-1) ** p)


def _integral(v: Values, op: Op, point: Point) -> Any:
    inner = Program(op[4])
    if names(op[3]) - {op[4]}:
        raise NotSupported("an integral with other names in its integrand")
    return integrate(inner, inner.add(op[3]), v[op[1]], v[op[2]])


def integrate(program: Program, goal: int, lower: Any, upper: Any) -> Any:
    """∫ of an entry between finite limits as a ball, by rigorous quadrature (Arb's `acb.integral`); it may be not finite."""
    order = program.order(goal)

    def integrand(z: Any, analytic: bool) -> Any:
        values: Values = [None] * len(program.ops)
        for entry in order:
            op = program.ops[entry]
            rule = COMPLEX.get(op[0])
            values[entry] = rule(values, op, analytic) if rule else RULES[op[0]](values, op, {program.variable: z})
        return acb(values[goal])

    return acb.integral(integrand, acb(lower), acb(upper), eval_limit=4000).real


#: The value of each operation on real balls, from the values so far. A primitive has no value of its own; see `check.py`.
RULES: dict[str, Callable[[Values, Op, Point], Any]] = {
    "num": lambda v, op, p: arb(op[1]),
    "pi": lambda v, op, p: arb.pi(),
    "var": lambda v, op, p: p[op[1]],
    "add": lambda v, op, p: v[op[1]] + v[op[2]],
    "mul": lambda v, op, p: v[op[1]] * v[op[2]],
    "div": lambda v, op, p: v[op[1]] / v[op[2]],
    "pow": lambda v, op, p: whole_power(v[op[1]], op[2]),
    "root": _root,
    "abs": lambda v, op, p: abs(v[op[1]]),
    "sgn": lambda v, op, p: v[op[1]].sgn(),
    "exp": lambda v, op, p: monotone(arb.exp, v[op[1]]),
    "ln": lambda v, op, p: monotone(arb.log, v[op[1]]),
    "sin": lambda v, op, p: v[op[1]].sin(),
    "cos": lambda v, op, p: v[op[1]].cos(),
    "arctan": lambda v, op, p: monotone(arb.atan, v[op[1]]),
    "integral": _integral,
    "primitive": lambda v, op, p: arb(0),
}


def _complex_root(v: Values, op: Op, analytic: bool) -> Any:
    u, p, q = acb(v[op[1]]), op[2], op[3]
    if q % 2 and u.real < 0:
        return (-u).pow(acb(fmpq(p, q)), analytic) * (-1) ** p
    return u.sqrt(analytic) ** p if q == 2 else u.pow(acb(fmpq(p, q)), analytic)


def _complex_arctan(v: Values, op: Op, analytic: bool) -> Any:
    u = acb(v[op[1]])
    cut = analytic and not abs(u.imag) < 1 and u.real.contains(0)
    return acb("nan") if cut else u.atan()


#: What differs on complex balls, for quadrature: not finite where `analytic` is asked and the operation may not be so.
COMPLEX: dict[str, Callable[[Values, Op, bool], Any]] = {
    "pow": lambda v, op, a: v[op[1]] ** op[2],
    "root": _complex_root,
    "abs": lambda v, op, a: acb(v[op[1]]).real_abs(a),
    "sgn": lambda v, op, a: acb(v[op[1]]).real_sgn(a),
    "exp": lambda v, op, a: v[op[1]].exp(),
    "ln": lambda v, op, a: acb(v[op[1]]).log(a),
    "arctan": _complex_arctan,
}
