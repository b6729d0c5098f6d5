"""Antiderivatives that anyone knows by heart, as the slips need them for their wrong turns. No substitution, no parts."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from ..notation.build import ONE, add, call, divide, multiply, names, negate, number, power, rational, root
from ..notation.tree import Absolute, Call, Constant, Name, Negative, Node, Number, Power, Product, Quotient, Root, Sum
from .answers import coefficient, scale, slope, term

#: ∫ of each function at u, by u.
_OF_A_CALL: dict[str, Callable[[Node], Node]] = {
    "sin": lambda u: negate(call("cos", u)),
    "cos": lambda u: call("sin", u),
    "tan": lambda u: negate(call("ln", Absolute(call("cos", u)))),
    "cot": lambda u: call("ln", Absolute(call("sin", u))),
    "exp": lambda u: call("exp", u),
    "sinh": lambda u: call("cosh", u),
    "cosh": lambda u: call("sinh", u),
    "ln": lambda u: add(multiply(u, call("ln", u)), negate(u)),
}
_OF_A_SQUARE: dict[str, Callable[[Node], Node]] = {
    "sec": lambda u: call("tan", u),
    "csc": lambda u: negate(call("cot", u)),
    "sech": lambda u: call("tanh", u),
}


def antiderivative(node: Node, x: str) -> Node | None:
    """An antiderivative of sums, powers and standard functions with a linear inside; None when it takes more than that."""
    if x not in names(node):
        return multiply(node, Name(x))
    match node:
        case Negative(argument=inner):
            found = antiderivative(inner, x)
            return None if found is None else negate(found)
        case Sum(terms=terms):
            parts = [antiderivative(part, x) for part in terms]
            return None if any(part is None for part in parts) else add(*(part for part in parts if part is not None))
    ratio, constant, core = coefficient(node, x)
    found = _standard(core, x)
    if found is None:
        return None
    return scale(scale(found, ratio, x), constant, x) if not isinstance(found, Sum) else multiply(term(ratio, constant, ONE), found)


def _standard(core: Node, x: str) -> Node | None:
    """∫ g(ax + b): the table's antiderivative at u, divided by a."""
    base, exponent = as_power(core)
    pair: tuple[Node, Node] | None = None
    if x not in names(base) and exponent is None and isinstance(core, Power):
        pair = core.exponent, core if isinstance(base, Constant) else divide(core, call("ln", base))
    elif isinstance(base, Call) and exponent == 1 and base.function in _OF_A_CALL:
        pair = base.argument, _OF_A_CALL[base.function](base.argument)
    elif isinstance(base, Call) and exponent == 2 and base.function in _OF_A_SQUARE:
        pair = base.argument, _OF_A_SQUARE[base.function](base.argument)
    elif exponent is not None:
        pair = base, raised(base, exponent)
    if pair is None:
        return None
    inner_slope = slope(pair[0], x)
    if inner_slope is None:
        return None
    found = pair[1]
    return found if inner_slope == ONE else scale(found, divide(ONE, inner_slope), x)


def as_power(node: Node) -> tuple[Node, Fraction | None]:
    """A node as base and rational exponent: 1/√u is u to the -1/2. The exponent is None if it is no rational number."""
    match node:
        case Root(radicand=radicand, index=index):
            return radicand, Fraction(1, index)
        case Power(base=base, exponent=exponent):
            return base, rational(exponent)
        case Quotient(top=Number(value=value), bottom=bottom) if value == 1:
            base, exact = as_power(bottom)
            return base, None if exact is None else -exact
    return node, Fraction(1)


def raised(base: Node, exponent: Fraction) -> Node:
    """The power rule: ∫ uⁿ du = uⁿ⁺¹/(n + 1), and ln|u| for n = -1."""
    if exponent == -1:
        return call("ln", Absolute(base))
    return term(1 / (exponent + 1), ONE, written_power(base, exponent + 1))


def written_power(base: Node, exponent: Fraction) -> Node:
    """uᵖ as it is usually written: square roots as roots, negative powers below a line."""
    if exponent < 0:
        return divide(ONE, written_power(base, -exponent))
    if exponent.denominator == 2 and exponent.numerator == 1:
        return root(base)
    return power(base, number(exponent))


def x_factors(node: Node, x: str) -> tuple[Node, ...]:
    """The factors of a product that depend on `x` (none for anything but a product)."""
    if isinstance(node, Negative):
        return x_factors(node.argument, x)
    if isinstance(node, Quotient) and x not in names(node.bottom):
        return x_factors(node.top, x)
    if not isinstance(node, Product):
        return ()
    return tuple(factor for factor in node.factors if x in names(factor))
