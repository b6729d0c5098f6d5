"""The table of standard forms that a first course knows by heart, matched on tidy integrands without a constant in front.

Sources: NIST DLMF 4.10, 4.26, 4.40 and section 1.4(iv) for the elementary antiderivatives.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from types import MappingProxyType

from ..algebra.poly import by_degree, linear
from ..algebra.rewrite import express
from ..algebra.terms import Term, as_node, term_of
from ..algebra.tidy import tidy
from ..notation.build import ONE, E, add, call, divide, multiply, names, negate, number, power, rational, root, substitute
from ..notation.tree import Absolute, Call, Name, Node, Sum
from .asking import insides

_ONE_FUNCTION: Mapping[tuple[str, int], Callable[[Node], Node]] = MappingProxyType({
    ("sin", 1): lambda x: negate(call("cos", x)),
    ("cos", 1): lambda x: call("sin", x),
    ("sec", 2): lambda x: call("tan", x),
    ("csc", 2): lambda x: negate(call("cot", x)),
    ("sinh", 1): lambda x: call("cosh", x),
    ("cosh", 1): lambda x: call("sinh", x),
    ("sech", 2): lambda x: call("tanh", x),
    ("csch", 2): lambda x: negate(call("coth", x)),
    ("tan", 1): lambda x: negate(call("ln", Absolute(call("cos", x)))),
    ("cot", 1): lambda x: call("ln", Absolute(call("sin", x))),
    ("sec", 1): lambda x: call("ln", Absolute(add(call("sec", x), call("tan", x)))),
    ("csc", 1): lambda x: negate(call("ln", Absolute(add(call("csc", x), call("cot", x))))),
    ("tanh", 1): lambda x: call("ln", call("cosh", x)),
    ("coth", 1): lambda x: call("ln", Absolute(call("sinh", x))),
})  # fmt: skip

#: Formulas that are in the table but are better found than remembered.
DEARER = frozenset({"tan", "cot", "sec", "csc", "tanh", "coth"})

_TWO_FUNCTIONS: Mapping[frozenset[str], Callable[[Node], Node]] = MappingProxyType({
    frozenset(("sec", "tan")): lambda x: call("sec", x),
    frozenset(("csc", "cot")): lambda x: negate(call("csc", x)),
    frozenset(("sech", "tanh")): lambda x: negate(call("sech", x)),
    frozenset(("csch", "coth")): lambda x: negate(call("csch", x)),
})  # fmt: skip


def integrands(variable: str) -> tuple[Node, ...]:
    """What the table holds of the standard functions of a variable, simplest first: for a formula sheet."""
    x = Name(variable)
    one = [power(call(function, x), exponent) for function, exponent in _ONE_FUNCTION]
    two = [
        multiply(*(call(function, x) for function in sorted(pair, key=lambda name: name.startswith(("tan", "cot")))))
        for pair in _TWO_FUNCTIONS
    ]
    squares = add(ONE, power(x, 2)), add(ONE, negate(power(x, 2)))
    return (*one, *two, divide(ONE, squares[0]), divide(ONE, root(squares[1])))


def power_form(rest: Node, variable: str) -> Node | None:
    """∫ x^n dx, x^-1 among them; ∫ 1 dx."""
    x = Name(variable)
    term = term_of(rest)
    if not term.powers:
        return x if term.coefficient == 1 else None
    if len(term.powers) != 1 or term.powers[0][0] != x:
        return None
    exponent = term.powers[0][1]
    if exponent == -1:
        return call("ln", Absolute(x))
    if not isinstance(exponent, Fraction) and variable in names(exponent):
        return None
    raised = tidy(add(as_node(exponent), ONE))
    return tidy(divide(power(x, raised), raised))


def table_form(rest: Node, variable: str) -> Node | None:
    """∫ of a form of the table in the variable itself, no power of it."""
    x = Name(variable)
    term = term_of(rest)
    if term.coefficient != 1:
        return None
    if len(term.powers) == 1:
        return _one(term, x)
    if len(term.powers) == 2:
        return _two(term, x)
    return None


def _one(term: Term, x: Name) -> Node | None:
    base, exponent = term.powers[0]
    if exponent == x and x.name not in names(base):
        value = power(base, x)
        return value if base == E else divide(value, tidy(call("ln", base)))
    if not isinstance(exponent, Fraction):
        return None
    if base == Absolute(x) and exponent > -1:
        return tidy(divide(multiply(x, power(Absolute(x), number(exponent))), number(exponent + 1)))
    if isinstance(base, Call) and base.argument == x and exponent.denominator == 1:
        known = _ONE_FUNCTION.get((base.function, int(exponent)))
        return None if known is None else known(x)
    if isinstance(base, Sum):
        values = by_degree(base, x.name, 2)
        if values is None or len(values) != 3 or values[0] != ONE or values[1] != number(0):
            return None
        if exponent == -1 and values[2] == ONE:
            return call("arctan", x)
        if exponent == Fraction(-1, 2) and values[2] == negate(ONE):
            return call("arcsin", x)
    return None


def _two(term: Term, x: Name) -> Node | None:
    (a, m), (b, n) = term.powers
    if m == n == 1 and isinstance(a, Call) and isinstance(b, Call) and a.argument == x == b.argument:
        known = _TWO_FUNCTIONS.get(frozenset((a.function, b.function)))
        return None if known is None else known(x)
    return None


def standard(rest: Node, variable: str) -> Node | None:
    found = power_form(rest, variable)
    return table_form(rest, variable) if found is None else found


def is_dear(rest: Node) -> bool:
    """Whether the form is one of the formulas that are better found than remembered."""
    powers = term_of(rest).powers
    return len(powers) == 1 and isinstance(powers[0][0], Call) and powers[0][0].function in DEARER and powers[0][1] == 1


def linear_insides(rest: Node, variable: str) -> list[tuple[Node, Node]]:
    """(inside, its constant derivative) for every linear inside other than the variable, the ones met first."""
    found: dict[Node, Node] = {}
    for inner in insides(rest, variable):
        line = linear(inner, variable)
        if line is not None:
            found.setdefault(inner, line[0])
    return list(found.items())


def linear_form(rest: Node, variable: str) -> tuple[Node, Node, Node, str] | None:
    """(antiderivative, inside, derivative of the inside, kind) of a table or power form with a linear inside."""
    for inner, slope in linear_insides(rest, variable):
        name = "u" if variable != "u" else "v"
        inside_form = express(rest, variable, inner, name)
        if inside_form is None:
            continue
        found = standard(inside_form, name)
        if found is not None:
            kind = "power" if power_form(inside_form, name) is not None else "table"
            whole = tidy(divide(substitute(found, {name: inner}), slope))
            return whole, inner, slope, kind
    return None


def square_root(node: Node, positive_names: frozenset[str]) -> Node:
    """√node, with the letters that are known to be positive taken out of it: √(4a²) = 2a."""
    value = rational(node)
    if value is not None:
        return tidy(root(node))
    term = term_of(node)
    out: list[Node] = []
    stay: list[Node] = []
    for base, exponent in term.powers:
        if isinstance(base, Name) and base.name in positive_names and isinstance(exponent, Fraction):
            out.append(power(base, number(exponent / 2)))
        else:
            stay.append(power(base, as_node(exponent)))
    return tidy(multiply(root(number(term.coefficient)), *out, *((root(multiply(*stay)),) if stay else ())))
