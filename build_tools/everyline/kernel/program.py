"""Trees as straight programs of a few operations, and their values as balls (intervals that surely hold the true value).

A `Program` is a list of operations on earlier entries, equal ones stored once; several trees share one program. Everything
that can go wrong on the real line goes wrong at a *guard*: a divisor, radicand, argument of a logarithm, and so on.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from flint import acb, arb, fmpq

from ..notation.build import E, ONE, PI, TWO, add, divide, multiply, names, negate, subtract, substitute
from ..notation.tree import (
    Absolute, ArbitraryConstant, Call, Constant, Derivative, Evaluation, Integral, Logarithm, Name, Negative, Node, Number, Power, Product,
    Quotient, Root, Sum,
)  # fmt: skip
from .derivative import Bindings, NotSupported, derivative

Op = tuple[Any, ...]
MAX_OPS = 4000
FOLD_BITS = 4096


class Budget(Exception):
    """The claim is too large for the limits of the checker, or its time is over."""


class Undefined(Exception):
    """The expression surely has no real value: everywhere in the box, at entry `args[0]`."""


class Unsure(Exception):
    """Guard `args[1]` of entry `args[0]` may be zero somewhere in the box; nothing can be said yet."""


#: Functions that are written with others; the rest are operations of their own.
LOWERED: dict[str, Callable[[Node], Node]] = {
    "sec": lambda u: divide(ONE, Call("cos", u)),
    "csc": lambda u: divide(ONE, Call("sin", u)),
    "cot": lambda u: divide(Call("cos", u), Call("sin", u)),
    "tan": lambda u: divide(Call("sin", u), Call("cos", u)),
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


class Program:
    """Operations in order; `add` returns the entry of a tree. `bound` gives names their trees."""

    def __init__(self, bound: Bindings | None = None) -> None:
        self.ops: list[Op] = []
        self.bound = dict(bound or {})
        self._entry: dict[Op, int] = {}
        self._seen: dict[int, tuple[Node, int]] = {}
        self._orders: dict[tuple[int, ...], list[int]] = {}

    def put(self, *op: Any) -> int:
        """The entry of an operation, a new one if there is none yet; rational arithmetic is done at once."""
        found = self._entry.get(op)
        if found is None:
            if len(self.ops) >= MAX_OPS:
                raise Budget("too many operations")
            value = self._fold(op)
            if value is not None:
                found = value if isinstance(value, int) else self.put("num", value)
            else:
                found = len(self.ops)
                self.ops.append(op)
            self._entry[op] = found
        return found

    def _number(self, entry: int) -> Fraction | None:
        op = self.ops[entry]
        return op[1] if op[0] == "num" else None

    def _fold(self, op: Op) -> Fraction | int | None:
        kind = op[0]
        if kind not in ("add", "mul", "div", "pow"):
            return None
        a = self._number(op[1])
        b = Fraction(op[2]) if kind == "pow" else self._number(op[2])
        if kind == "mul" and (a == 1 or b == 1):
            return op[2] if a == 1 else op[1]  # type: ignore[no-any-return]
        if a is None or b is None or max(_bits(a), _bits(b)) > FOLD_BITS:
            return None
        if kind == "pow":
            return a**op[2] if _bits(a) * op[2] <= FOLD_BITS else None
        return a + b if kind == "add" else a * b if kind == "mul" else a / b if b else None

    def add(self, node: Node) -> int:
        """The entry of a tree. Raises `NotSupported` for what has no value and `Budget` when it is too large."""
        known = self._seen.get(id(node))
        if known is not None:
            return known[1]
        entry = self._add(node)
        self._seen[id(node)] = (node, entry)
        return entry

    def _add(self, node: Node) -> int:
        match node:
            case Number(value):
                return self.put("num", value)
            case Constant(name):
                return self.put("pi") if name == "pi" else self.put("exp", self.put("num", Fraction(1)))
            case Name(name):
                return self.add(self.bound[name]) if name in self.bound else self.put("var", name)
            case ArbitraryConstant(name):
                return self.put("var", "constant " + name)
            case Negative(u):
                return self.put("mul", self.put("num", Fraction(-1)), self.add(u))
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
            case Call(function, u):
                return self.add(LOWERED[function](u)) if function in LOWERED else self.put(function, self.add(u))
            case Logarithm(base, u):
                return self.put("div", self.put("ln", self.add(u)), self.put("ln", self.add(base)))
            case Evaluation(body, variable, lower, upper):
                return self.add(subtract(substitute(body, {variable: upper}), substitute(body, {variable: lower})))
            case Derivative(body, variable, order):
                return self.add(derivative(body, variable, {k: v for k, v in self.bound.items() if k != variable}, order))
            case Integral(body, variable, Node() as lower, Node() as upper):
                if names(body) - {variable}:
                    raise NotSupported("an integral with other names in its integrand")
                return self.put("integral", self.add(lower), self.add(upper), body, variable)
        raise NotSupported(type(node).__name__)

    def _power(self, u: Node, n: Node) -> int:
        if u == E:
            return self.put("exp", self.add(n))
        exponent = self.add(n)
        exact = self._number(exponent)
        if exact is not None:
            return self._rational_power(self.add(u), exact)
        return self.put("exp", self.put("mul", exponent, self.put("ln", self.add(u))))

    def _rational_power(self, base: int, exponent: Fraction) -> int:
        if _bits(exponent) > 64:
            raise Budget("an exponent is too large")
        if exponent < 0:
            return self.put("div", self.put("num", Fraction(1)), self._rational_power(base, -exponent))
        if exponent.denominator > 1:
            return self.put("root", base, exponent.numerator, exponent.denominator)
        return self.put("num", Fraction(1)) if exponent == 0 else base if exponent == 1 else self.put("pow", base, exponent.numerator)

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

    def run(self, order: list[int], point: Mapping[str, Any], strict: bool = True) -> list[Any]:
        """The balls of the entries in `order` where each variable is a ball.

        `strict`: every entry is analytic on the whole box. Else it is only continuous where it is defined: a radicand may
        touch zero. Raises `Undefined` or `Unsure`, their first argument the entry that failed.
        """
        values: list[Any] = [None] * len(self.ops)
        ops = self.ops
        entry = 0
        try:
            for entry in order:
                op = ops[entry]
                values[entry] = RULES[op[0]](values, op, point, strict)
        except (Undefined, Unsure) as stop:
            raise type(stop)(entry, *stop.args) from None
        return values


def ball(value: Fraction | int) -> Any:
    """A rational number as a ball."""
    value = Fraction(value)
    return arb(fmpq(value.numerator, value.denominator))


def _bits(value: Fraction) -> int:
    return max(abs(value.numerator).bit_length(), value.denominator.bit_length())


#: How many parts each operation has.
PARTS = {
    "num": 0, "pi": 0, "var": 0, "add": 2, "mul": 2, "div": 2, "pow": 1, "root": 1, "abs": 1, "sgn": 1, "exp": 1, "ln": 1, "sin": 1, "cos": 1,
    "arctan": 1, "integral": 2,
}  # fmt: skip
#: The part that is a guard: it must not be zero inside a component.
GUARDS = {"root": 1, "abs": 1, "sgn": 1, "ln": 1, "div": 2}
#: Operations that are another analytic function on the other side of their guard's zero. (Past a pole it is the same one.)
KINKED = frozenset(("root", "abs", "sgn", "ln"))

Values = list[Any]
Point = Mapping[str, Any]
NARROW = arb(2) ** -20


def _divide(v: Values, op: Op, point: Point, strict: bool) -> Any:
    bottom = v[op[2]]
    if not bottom != 0:
        raise (Undefined if bottom == 0 else Unsure)(op[2])
    return v[op[1]] / bottom


def monotone(function: Callable[[Any], Any], ball: Any) -> Any:
    """An increasing function on a ball: through its ends when it is wide, for arithmetic in the middle widens too much."""
    if ball.rad() <= ball.abs_lower() * NARROW:
        return function(ball)
    return function(ball.lower()).union(function(ball.upper()))


def whole_power(ball: Any, exponent: int) -> Any:
    if ball.rad() <= ball.abs_lower() * NARROW:
        return ball**exponent
    if exponent % 2:
        return monotone(lambda u: u**exponent, ball)
    return (ball.abs_lower() ** exponent).union(ball.abs_upper() ** exponent)


def _root(v: Values, op: Op, point: Point, strict: bool) -> Any:
    _, i, p, q = op
    u = v[i]

    def positive(w: Any) -> Any:
        return w.root(q) ** p

    if u > 0:
        return monotone(positive, u)
    if q % 2 and u < 0:
        return monotone(positive, -u) * (-1) ** p
    if u < 0:
        raise Undefined(i)
    if strict or u.is_nan():
        raise Unsure(i)
    right = positive(u.nonnegative_part().upper())
    return arb(0).union(right) if q % 2 == 0 else right.union(positive((-u).nonnegative_part().upper()) * (-1) ** p).union(arb(0))


def _absolute(v: Values, op: Op, point: Point, strict: bool) -> Any:
    if strict and not v[op[1]] != 0:
        raise Unsure(op[1])
    return abs(v[op[1]])


def _sign(v: Values, op: Op, point: Point, strict: bool) -> Any:
    u = v[op[1]]
    if not u != 0 and (strict or not u == 0):
        raise Unsure(op[1])
    return u.sgn()


def _logarithm(v: Values, op: Op, point: Point, strict: bool) -> Any:
    u = v[op[1]]
    if u > 0:
        return monotone(arb.log, u)
    raise (Undefined if u <= 0 else Unsure)(op[1])


def _integral(v: Values, op: Op, point: Point, strict: bool) -> Any:
    inner = Program()
    return integrate(inner, inner.add(op[3]), op[4], v[op[1]], v[op[2]])


def integrate(program: Program, goal: int, variable: str, lower: Any, upper: Any) -> Any:
    """∫ of an entry between finite limits as a ball, by rigorous quadrature (Arb's `acb.integral`); it may be not finite."""
    order = program.order(goal)

    def integrand(z: Any, analytic: bool) -> Any:
        values: Values = [None] * len(program.ops)
        for entry in order:
            op = program.ops[entry]
            values[entry] = COMPLEX[op[0]](values, op, {variable: z}, analytic)
        return acb(values[goal])

    return acb.integral(integrand, acb(lower), acb(upper), eval_limit=4000).real


#: The value of each operation on real balls, from the values so far.
RULES: dict[str, Callable[[Values, Op, Point, bool], Any]] = {
    "num": lambda v, op, p, s: ball(op[1]),
    "pi": lambda v, op, p, s: arb.pi(),
    "var": lambda v, op, p, s: p[op[1]],
    "add": lambda v, op, p, s: v[op[1]] + v[op[2]],
    "mul": lambda v, op, p, s: v[op[1]] * v[op[2]],
    "div": _divide,
    "pow": lambda v, op, p, s: whole_power(v[op[1]], op[2]),
    "root": _root,
    "abs": _absolute,
    "sgn": _sign,
    "exp": lambda v, op, p, s: monotone(arb.exp, v[op[1]]),
    "ln": _logarithm,
    "sin": lambda v, op, p, s: v[op[1]].sin(),
    "cos": lambda v, op, p, s: v[op[1]].cos(),
    "arctan": lambda v, op, p, s: monotone(arb.atan, v[op[1]]),
    "integral": _integral,
}


def _complex_root(v: Values, op: Op, point: Point, analytic: bool) -> Any:
    _, i, p, q = op
    u = acb(v[i])
    if q % 2 and u.real < 0:
        return (-u).pow(acb(fmpq(p, q)), analytic) * (-1) ** p
    return u.sqrt(analytic) ** p if q == 2 else u.pow(acb(fmpq(p, q)), analytic)


def _complex_arctan(v: Values, op: Op, point: Point, analytic: bool) -> Any:
    u = acb(v[op[1]])
    cut = analytic and not abs(u.imag) < 1 and not u.real != 0
    return acb("nan") if cut else u.atan()


#: The same on complex balls, for quadrature: not finite where `analytic` is asked and the operation may not be so.
COMPLEX: dict[str, Callable[[Values, Op, Point, bool], Any]] = {
    **{kind: RULES[kind] for kind in ("num", "pi", "var", "add", "mul", "sin", "cos")},
    "div": lambda v, op, p, a: v[op[1]] / v[op[2]],
    "pow": lambda v, op, p, a: v[op[1]] ** op[2],
    "root": _complex_root,
    "abs": lambda v, op, p, a: acb(v[op[1]]).real_abs(a),
    "sgn": lambda v, op, p, a: acb(v[op[1]]).real_sgn(a),
    "exp": lambda v, op, p, a: v[op[1]].exp(),
    "ln": lambda v, op, p, a: acb(v[op[1]]).log(a),
    "arctan": _complex_arctan,
}
