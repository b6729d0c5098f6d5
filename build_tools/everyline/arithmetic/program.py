"""Trees as straight programs: several trees share one program, in one variable and in names that are bound to trees."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from ..notation import tree
from ..notation.build import ONE, PI, TWO, E, add, divide, multiply, names, negate, substitute, subtract
from ..notation.tree import Call, Name, Node, Power, Root
from .stops import NotSupported
from .tape import PARTS, Op, Tape

#: Each function of `u` as a tree of simpler ones.
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


class Program(Tape):
    """A tape that takes trees; `add` returns the entry of a tree. `bound` gives names their trees, in terms of `variable`."""

    def __init__(self, variable: str = "", bound: Mapping[str, Node] | None = None) -> None:
        super().__init__(variable)
        self.bound = dict(bound or {})
        self._seen: dict[int, tuple[Node, int]] = {}

    def add(self, node: Node) -> int:
        """The entry of a tree. Raises `NotSupported` for what has no value and `Budget` when it is too large."""
        known = self._seen.get(id(node))
        if known is None:
            known = self._seen[id(node)] = (node, self._add(node))
        return known[1]

    def _add(self, node: Node) -> int:
        match node:
            case tree.Number(value):
                return self.number(value)
            case tree.Constant(name):
                return self.put("pi") if name == "pi" else self.put("exp", self.number(1))
            case Name(name):
                return self.add(self.bound[name]) if name in self.bound else self.put("var", name)
            case tree.ArbitraryConstant(name):
                return self.put("var", "constant " + name)
            case tree.Negative(u):
                return self.put("mul", self.number(-1), self.add(u))
            case tree.Sum(parts) | tree.Product(parts):
                entry = self.add(parts[0])
                for part in parts[1:]:
                    entry = self.put("add" if isinstance(node, tree.Sum) else "mul", entry, self.add(part))
                return entry
            case tree.Quotient(u, v):
                return self.put("div", self.add(u), self.add(v))
            case Power(u, n):
                return self._power(u, n)
            case Root(u, n):
                return self._rational_power(self.add(u), Fraction(1, n))
            case tree.Absolute(u):
                return self.put("abs", self.add(u))
            case Call(function, u) if function in LOWERED:
                return self.add(LOWERED[function](u))
            case Call(function, u) if function in PARTS:
                return self.put(function, self.add(u))
            case tree.Logarithm(base, u):
                return self.put("div", self.put("ln", self.add(u)), self.put("ln", self.add(base)))
        return self._add_calculus(node)

    def _add_calculus(self, node: Node) -> int:
        match node:
            case tree.Evaluation(body, variable, lower, upper):
                return self.less(*(self.add(substitute(body, {variable: end})) for end in (upper, lower)))
            case tree.Derivative(body, variable, order):
                entry = self.add(body)
                for _ in range(order):
                    # By a bound name u: the derivative by the variable over that of u.
                    bound = variable in self.bound
                    entry = self.over(self.slope(entry), self.slope(self.add(Name(variable)))) if bound else self.slope(entry, variable)
                return entry
            case tree.Integral(body, variable, None, None):
                return self.put("primitive", self.add(body), self.add(Name(variable)))
            case tree.Integral(body, variable, Node() as lower, Node() as upper):
                body = substitute(body, {name: bound for name, bound in self.bound.items() if name != variable})
                return self.put("integral", self.add(lower), self.add(upper), body, variable, lower, upper)
            case tree.Limit(body, variable, point, side):
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

    def _slope(self, entry: int, x: str, op: Op, *slopes: int) -> int:
        """Also the derivative of an integral by what its limits depend on (DLMF 1.4.21)."""
        if op[0] != "integral":
            return super()._slope(entry, x, op, *slopes)
        if x in names(op[3]) - {op[4]}:
            raise NotSupported("an integral whose integrand depends on what it is differentiated by")
        lower, upper = (self.times(self.add(substitute(op[3], {op[4]: end})), d) for end, d in zip(op[5:], slopes, strict=True))
        return self.less(upper, lower)

    def copy(self, other: Program, goal: int) -> int:
        """The entry of another program's entry, with this program's trees for names."""
        new: dict[int, int] = {}
        for entry in other.order(goal):
            op = other.ops[entry]
            parts = [new[part] for part in other.parts(entry)]
            if op[0] in ("var", "num"):
                new[entry] = self.add(Name(op[1])) if op[0] == "var" else self.number(op[1])
            else:
                new[entry] = self.put(op[0], *parts, *op[1 + len(parts) :])
        return new[goal]
