"""Derivatives of trees: the rules of a first course, one line each (rules: DLMF 1.4(iii), 4.7, 4.20, 4.24, 4.34, 4.40)."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ..notation.build import (
    ONE,
    TWO,
    ZERO,
    E,
    add,
    call,
    divide,
    multiplicands,
    multiply,
    names,
    negate,
    number,
    power,
    rational,
    root,
    substitute,
    subtract,
)  # fmt: skip
from ..notation.tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Derivative,
    Evaluation,
    Integral,
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


class NotSupported(Exception):
    """A part of a tree that has no derivative here; the text says which."""


Bindings = Mapping[str, Node]

#: d/du of each function, as a tree in u.
OUTER: dict[str, Callable[[Node], Node]] = {
    "sin": lambda u: call("cos", u),
    "cos": lambda u: negate(call("sin", u)),
    "tan": lambda u: power(call("sec", u), 2),
    "sec": lambda u: multiply(call("sec", u), call("tan", u)),
    "csc": lambda u: negate(multiply(call("csc", u), call("cot", u))),
    "cot": lambda u: negate(power(call("csc", u), 2)),
    "arcsin": lambda u: divide(ONE, root(subtract(ONE, power(u, 2)))),
    "arccos": lambda u: negate(divide(ONE, root(subtract(ONE, power(u, 2))))),
    "arctan": lambda u: divide(ONE, add(ONE, power(u, 2))),
    "arcsec": lambda u: divide(ONE, multiply(Absolute(u), root(subtract(power(u, 2), ONE)))),
    "arccsc": lambda u: negate(divide(ONE, multiply(Absolute(u), root(subtract(power(u, 2), ONE))))),
    "arccot": lambda u: negate(divide(ONE, add(ONE, power(u, 2)))),
    "sinh": lambda u: call("cosh", u),
    "cosh": lambda u: call("sinh", u),
    "tanh": lambda u: power(call("sech", u), 2),
    "sech": lambda u: negate(multiply(call("sech", u), call("tanh", u))),
    "csch": lambda u: negate(multiply(call("csch", u), call("coth", u))),
    "coth": lambda u: negate(power(call("csch", u), 2)),
    "arsinh": lambda u: divide(ONE, root(add(power(u, 2), ONE))),
    "arcosh": lambda u: divide(ONE, root(subtract(power(u, 2), ONE))),
    "artanh": lambda u: divide(ONE, subtract(ONE, power(u, 2))),
    "arsech": lambda u: negate(divide(ONE, multiply(u, root(subtract(ONE, power(u, 2)))))),
    "arcsch": lambda u: negate(divide(ONE, multiply(Absolute(u), root(add(ONE, power(u, 2)))))),
    "arcoth": lambda u: divide(ONE, subtract(ONE, power(u, 2))),
    "exp": lambda u: call("exp", u),
    "ln": lambda u: divide(ONE, u),
    "sgn": lambda u: ZERO,
}


def derivative(node: Node, variable: str, bindings: Bindings | None = None, order: int = 1) -> Node:
    """The derivative of a tree by `variable`, lightly tidied (zeros and ones dropped, signs in front); angles in radians.

    Other names are constants, except those that `bindings` give as trees in the variable. An indefinite integral of g by
    a bound name u counts as a function with the derivative g·u′. Raises `NotSupported` for limits and equations.
    """
    for _ in range(order):
        node = _derive(node, variable, bindings or {})
    return node


def _derive(node: Node, x: str, bound: Bindings) -> Node:
    match node:
        case Number() | Constant() | ArbitraryConstant():
            return ZERO
        case Name(name):
            return ONE if name == x else _derive(bound[name], x, bound) if name in bound else ZERO
        case Negative(u):
            return negate(_derive(u, x, bound))
        case Sum(terms):
            return add(*(_derive(t, x, bound) for t in terms))
        case Product(factors):
            slopes = [_derive(f, x, bound) for f in factors]
            return add(*(_times((*factors[:i], *factors[i + 1 :]), i, s) for i, s in enumerate(slopes) if s != ZERO))
        case Quotient(u, v):
            return _derive_quotient(u, v, x, bound)
        case Power(u, n):
            return _derive_power(u, n, x, bound)
        case Root(u, n):
            # Half of u's slope over √u, and in general u′ ⁿ√u / (n u), so that odd roots keep their sign for u < 0.
            du = _derive(u, x, bound)
            return divide(du, multiply(TWO, node)) if n == 2 else divide(multiply(du, node), multiply(number(n), u))
        case Absolute(u):
            return multiply(call("sgn", u), _derive(u, x, bound))
        case Call("ln", Quotient(u, v)) | Call("ln", Absolute(Quotient(u, v))):
            return subtract(*(_over(_derive(part, x, bound), part) for part in (u, v)))
        case Call("ln", Absolute(u)):
            return _over(_derive(u, x, bound), u)
        case Call(function, u):
            du = _derive(u, x, bound)
            return ZERO if du == ZERO else _over(du, u) if function == "ln" else multiply(du, OUTER[function](u))
        case Logarithm(base, u):
            return _derive(divide(call("ln", u), call("ln", base)), x, bound)
        case Evaluation(body, variable, lower, upper):
            return _derive(subtract(substitute(body, {variable: upper}), substitute(body, {variable: lower})), x, bound)
        case Derivative(body, variable, order):
            return _derive(derivative(body, variable, {k: v for k, v in bound.items() if k != variable}, order), x, bound)
        case Integral():
            return _derive_integral(node, x, bound)
    raise NotSupported(type(node).__name__)


def _over(slope: Node, below: Node) -> Node:
    """A quotient without a fraction above the line."""
    if isinstance(slope, Negative):
        return negate(_over(slope.argument, below))
    return divide(slope.top, multiply(slope.bottom, below)) if isinstance(slope, Quotient) else divide(slope, below)


def _times(others: tuple[Node, ...], place: int, slope: Node) -> Node:
    """The derivative of one factor among the others, in its place; 6 times 1/x is written 6/x."""
    sign, bare = (negate, slope.argument) if isinstance(slope, Negative) else (lambda node: node, slope)
    if isinstance(bare, Quotient) and bare.top == ONE:
        above = [other.top if isinstance(other, Quotient) else other for other in others]
        below = [other.bottom for other in others if isinstance(other, Quotient)]
        return sign(divide(multiply(*above), multiply(*below, bare.bottom)))
    return multiply(*others[:place], slope, *others[place:])


def _derive_quotient(u: Node, v: Node, x: str, bound: Bindings) -> Node:
    du, dv = _derive(u, x, bound), _derive(v, x, bound)
    if dv == ZERO:
        return divide(du, v)
    if du == ZERO:
        return _derive_reciprocal(u, v, x, bound)
    return divide(subtract(multiply(du, v), multiply(u, dv)), power(v, 2))


def _derive_reciprocal(u: Node, v: Node, x: str, bound: Bindings) -> Node:
    """u/v with a constant u: by the power rule where v is a power or a root, so that 3/x² does not take the quotient rule."""
    factors = multiplicands(v)
    moving = [f for f in factors if _derive(f, x, bound) != ZERO]
    still = [f for f in factors if f not in moving]
    base = moving[0] if len(moving) == 1 else v
    if base is v:
        still = []
    slope = _derive(base, x, bound)
    match base:
        case Power(b, n) if rational(n) is not None:
            exact = rational(n)
            assert exact is not None
            slope, below = multiply(n, _derive(b, x, bound)), power(b, number(exact + 1))
        case Root(b, index):
            slope, below = _derive(b, x, bound), multiply(number(index), b, base)
        case _:
            below = power(base, 2)
    return negate(_over(multiply(u, slope), multiply(*still, below)))


def _derive_power(u: Node, n: Node, x: str, bound: Bindings) -> Node:
    du, dn = _derive(u, x, bound), _derive(n, x, bound)
    if dn == ZERO:
        if du == ZERO:
            return ZERO
        exact = rational(n)
        return multiply(n, du, power(u, subtract(n, ONE) if exact is None else number(exact - 1)))
    if du == ZERO:
        return multiply(Power(u, n), dn) if u == E else multiply(Power(u, n), call("ln", u), dn)
    return multiply(Power(u, n), add(multiply(dn, call("ln", u)), divide(multiply(n, du), u)))


def _derive_integral(node: Integral, x: str, bound: Bindings) -> Node:
    g, v = node.integrand, node.variable
    if node.lower is None or node.upper is None:
        if v == x or v in bound:
            return multiply(g, _derive(Name(v), x, bound))
        raise NotSupported(f"an integral by {v}, which is not tied to {x}")
    if x in names(g) - {v}:
        raise NotSupported("an integral whose integrand depends on a parameter that is differentiated")
    ends = [multiply(substitute(g, {v: end}), _derive(end, x, bound)) for end in (node.upper, node.lower)]
    return subtract(*ends)
