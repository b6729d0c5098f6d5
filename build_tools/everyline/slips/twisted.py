"""Differentiating with one rule got wrong: what the derivative slips are made of."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ..algebra.derivative import OUTER, NotSupported, derivative
from ..notation.build import ONE, TWO, ZERO, E, add, call, divide, multiply, names, negate, number, power, rational, subtract
from ..notation.question import Question
from ..notation.tree import Call, Derivative, Name, Negative, Node, Power, Product, Quotient, Root, Sum


def _product(factors: tuple[Node, ...], derived: tuple[Node, ...]) -> Node:
    return add(*(multiply(*factors[:i], d, *factors[i + 1 :]) for i, d in enumerate(derived)))


def product_term(place: int) -> Callable[[tuple[Node, ...], tuple[Node, ...]], Node]:
    """The product rule with one of its terms only, that in which the factor at `place` is differentiated."""

    def rule(factors: tuple[Node, ...], derived: tuple[Node, ...]) -> Node:
        at = min(place, len(factors) - 1)
        return multiply(*factors[:at], derived[at], *factors[at + 1 :])

    return rule


def _quotient(u: Node, v: Node, du: Node, dv: Node) -> Node:
    return divide(du, v) if dv == ZERO else divide(subtract(multiply(du, v), multiply(u, dv)), power(v, 2))


def _function(name: str, u: Node) -> Node:
    return OUTER[name](u)


@dataclass(frozen=True, slots=True)
class Rules:
    """The rules of a first course, each of which a slip may replace."""

    product: Callable[[tuple[Node, ...], tuple[Node, ...]], Node] = _product
    quotient: Callable[[Node, Node, Node, Node], Node] = _quotient
    chain: Callable[[Node, Node], Node] = multiply
    function: Callable[[str, Node], Node] = _function
    exponential: Callable[[Node, Node, Node], Node] | None = None


Within = Callable[[Node, str, Rules], Node]


def one_step(node: Node, x: str, rules: Rules) -> Node:
    """The outermost rule only: the derivatives of the parts are left standing, unless they are plain to see."""

    def standing(part: Node, x: str, rules: Rules) -> Node:
        return ONE if part == Name(x) else ZERO if x not in names(part) else Derivative(part, x)

    return differentiate(node, x, rules, standing)


def differentiate(node: Node, x: str, rules: Rules, within: Within | None = None) -> Node:
    """The derivative by these rules, that of the parts by `within`.

    Raises:
        NotSupported: even the right rules have no answer.
    """
    inner = within or differentiate
    if x not in names(node):
        return ZERO
    match node:
        case Name():
            return ONE
        case Negative(argument=u):
            return negate(inner(u, x, rules))
        case Sum(terms=terms):
            return add(*(inner(t, x, rules) for t in terms))
        case Product(factors=factors):
            return _derive_product(factors, x, rules, inner)
        case Quotient(top=u, bottom=v):
            if x not in names(v):
                return divide(inner(u, x, rules), v)
            if x not in names(u):
                return negate(multiply(u, _times(rules, divide(ONE, power(v, 2)), v, x, inner)))
            return rules.quotient(u, v, inner(u, x, rules), inner(v, x, rules))
        case Root(radicand=u, index=index):
            outer = divide(ONE, multiply(TWO, node)) if index == 2 else divide(node, multiply(number(index), u))
            return _times(rules, outer, u, x, inner)
        case Power(base=u, exponent=n) if x not in names(n):
            exact = rational(n)
            lower = subtract(n, ONE) if exact is None else number(exact - 1)
            return _times(rules, multiply(n, power(u, lower)), u, x, inner)
        case Power(base=base, exponent=n) if x not in names(base):
            if rules.exponential is not None:
                return rules.exponential(base, n, inner(n, x, rules))
            return _times(rules, node if base == E else multiply(node, call("ln", base)), n, x, inner)
        case Call(function=name, argument=u):
            return _times(rules, rules.function(name, u), u, x, inner)
    return derivative(node, x)


def _times(rules: Rules, outer: Node, inside: Node, x: str, within: Within) -> Node:
    inner = within(inside, x, rules)
    return outer if inner == ONE else rules.chain(outer, inner)


def _derive_product(factors: tuple[Node, ...], x: str, rules: Rules, within: Within) -> Node:
    fixed = tuple(f for f in factors if x not in names(f))
    moving = tuple(f for f in factors if x in names(f))
    if len(moving) == 1:
        return multiply(*fixed, within(moving[0], x, rules))
    return multiply(*fixed, rules.product(moving, tuple(within(f, x, rules) for f in moving)))


def twisted(*wrong: Rules) -> Callable[[Question, Node], Iterable[Node]]:
    """`leads_to` of a slip that uses one of these sets of rules for a first derivative."""

    def leads_to(question: Question, right: Node) -> Iterable[Node]:
        if isinstance(question.node, Derivative) and question.node.order == 1:
            for rules in wrong:
                try:
                    yield differentiate(question.body, question.variable, rules)
                except (NotSupported, KeyError):
                    continue

    return leads_to


def right_derivative(question: Question) -> Node | None:
    """The derivative by the right rules, or None where it takes more than these rules."""
    if not isinstance(question.node, Derivative):
        return None
    try:
        return derivative(question.body, question.variable, None, question.node.order)
    except NotSupported:
        return None
