"""Building and walking trees: the few operations that every room needs and that know no calculus."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields
from fractions import Fraction
from functools import cache, lru_cache

from .tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Derivative,
    Evaluation,
    Inequality,
    Infinity,
    Integral,
    Interval,
    Limit,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Region,
    Root,
    Sum,
    Union,
)  # fmt: skip

ZERO = Number(Fraction(0))
ONE = Number(Fraction(1))
TWO = Number(Fraction(2))
PI = Constant("pi")
E = Constant("e")


def infinite(node: Node | None) -> int:
    """1 for infinity, -1 for minus infinity, else 0."""
    return 1 if node == Infinity() else -1 if node == Negative(Infinity()) else 0


def number(value: int | Fraction) -> Node:
    """The tree of a rational number: a quotient when it is not whole, a `Negative` when it is below zero."""
    value = Fraction(value)
    if value < 0:
        return Negative(number(-value))
    if value.denominator == 1:
        return Number(value)
    return Quotient(Number(Fraction(value.numerator)), Number(Fraction(value.denominator)))


def numbers(values: Mapping[str, int | Fraction]) -> dict[str, Node]:
    """The trees of some rational numbers, by their names."""
    return {name: number(value) for name, value in values.items()}


def rational(node: Node) -> Fraction | None:
    """The value of a tree that is written as a rational number (`3`, `-1/2`, `0.4`), else None."""
    match node:
        case Number(value=value):
            return value
        case Negative(argument=inner):
            value_ = rational(inner)
            return None if value_ is None else -value_
        case Quotient(top=top, bottom=bottom):
            a, b = rational(top), rational(bottom)
            return None if a is None or not b else a / b
    return None


def negate(node: Node) -> Node:
    if isinstance(node, Negative):
        return node.argument
    return node if node == ZERO else Negative(node)


def add(*terms: Node) -> Node:
    """The sum of the terms, flattened, without zeros; nothing else is simplified."""
    flat = [t for term in terms for t in summands(term) if t != ZERO]
    return ZERO if not flat else flat[0] if len(flat) == 1 else Sum(tuple(flat))


def subtract(left: Node, right: Node) -> Node:
    return add(left, *(negate(t) for t in summands(right)))


def multiply(*factors: Node) -> Node:
    """The product, flattened, signs taken to the front, ones dropped; nothing else is simplified."""
    flat: list[Node] = []
    negative = False
    for given in factors:
        factor = given
        while isinstance(factor, Negative):
            negative, factor = not negative, factor.argument
        if factor == ZERO:
            return ZERO
        flat += multiplicands(factor)
    flat = [f for f in flat if f != ONE]
    result = ONE if not flat else flat[0] if len(flat) == 1 else Product(tuple(flat))
    return Negative(result) if negative else result


def divide(top: Node, bottom: Node) -> Node:
    """The quotient, its sign in front; a bottom of one is dropped."""
    if isinstance(top, Negative):
        return negate(divide(top.argument, bottom))
    if isinstance(bottom, Negative):
        return negate(divide(top, bottom.argument))
    return ZERO if top == ZERO else top if bottom == ONE else Quotient(top, bottom)


def power(base: Node, exponent: Node | int) -> Node:
    exponent = number(exponent) if isinstance(exponent, int) else exponent
    return base if exponent == ONE else ONE if exponent == ZERO else Power(base, exponent)


def call(function: str, argument: Node) -> Node:
    return Call(function, argument)


def root(radicand: Node, index: int = 2) -> Node:
    return Root(radicand, index)


@cache
def _fields(kind: type[Node]) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))  # type: ignore[arg-type]


def children(node: Node) -> tuple[Node, ...]:
    """The direct parts of a node, in the order of its fields."""
    found: list[Node] = []
    for field in _fields(type(node)):  # type: ignore[arg-type]
        value = getattr(node, field)
        if isinstance(value, Node):
            found.append(value)
        elif isinstance(value, tuple):
            found += value
    return tuple(found)


def rebuild(node: Node, change: Callable[[Node], Node]) -> Node:
    """The same node with `change` applied to each of its direct parts."""
    changes: dict[str, object] = {}
    for field in _fields(type(node)):  # type: ignore[arg-type]
        value = getattr(node, field)
        if isinstance(value, Node):
            changes[field] = change(value)
        elif isinstance(value, tuple):
            changes[field] = tuple(change(part) for part in value)
        else:
            changes[field] = value
    return type(node)(**changes)


def walk(node: Node) -> Iterator[Node]:
    """The node and everything in it, from the outside in, from left to right."""
    stack = [node]
    while stack:
        current = stack.pop()
        yield current
        stack.extend(reversed(children(current)))


def size(node: Node) -> int:
    return sum(1 for _ in walk(node))


@lru_cache(maxsize=50_000)
def names(node: Node) -> frozenset[str]:
    """The free names of a node: not those that an integral with limits, a limit or an evaluation binds.

    The variable of an indefinite integral stays free: the integral is a function of it.
    """
    match node:
        case Name(name=name):
            return frozenset((name,))
        case Limit(body=body, variable=variable, point=point):
            return (names(body) - {variable}) | names(point)
        case Evaluation(body=body, variable=variable, lower=lower, upper=upper):
            return (names(body) - {variable}) | names(lower) | names(upper)
        case Integral(integrand=integrand, variable=variable, lower=lower, upper=upper):
            if lower is None or upper is None:
                return names(integrand) | {variable}
            return (names(integrand) - {variable}) | names(lower) | names(upper)
        case Derivative(body=body, variable=variable):
            return names(body) | {variable}
    return frozenset().union(*(names(part) for part in children(node)))


def substitute(node: Node, values: Mapping[str, Node]) -> Node:
    """Put trees in place of free names. Nothing is simplified.

    Inside an indefinite integral or a derivative its own variable is left alone (it cannot be replaced by an expression).
    """
    if not values:
        return node
    match node:
        case Name(name=name):
            return values.get(name, node)
        case Integral(integrand, variable, lower, upper):
            inside = {k: v for k, v in values.items() if k != variable}
            return Integral(
                substitute(integrand, inside), variable,
                None if lower is None else substitute(lower, values), None if upper is None else substitute(upper, values),
            )  # fmt: skip
        case Derivative(body, variable, order):
            return Derivative(substitute(body, {k: v for k, v in values.items() if k != variable}), variable, order)
        case Limit(body, variable, point, side):
            return Limit(substitute(body, {k: v for k, v in values.items() if k != variable}), variable, substitute(point, values), side)
        case Evaluation(body, variable, lower, upper):
            inside = {k: v for k, v in values.items() if k != variable}
            return Evaluation(substitute(body, inside), variable, substitute(lower, values), substitute(upper, values))
    return rebuild(node, lambda part: substitute(part, values))


def replace(node: Node, old: Node, new: Node) -> Node:
    """Every occurrence of one subtree replaced by another."""
    return new if node == old else rebuild(node, lambda part: replace(part, old, new))


def contains(node: Node, kinds: type[Node] | tuple[type[Node], ...]) -> bool:
    return any(isinstance(part, kinds) for part in walk(node))


def summands(node: Node) -> tuple[Node, ...]:
    """The terms of a sum; anything else is its own only term."""
    return node.terms if isinstance(node, Sum) else (node,)


def multiplicands(node: Node) -> tuple[Node, ...]:
    """The factors of a product; anything else is its own only factor."""
    return node.factors if isinstance(node, Product) else (node,)


def within_bars(node: Node) -> Node:
    """What stands between bars; anything else as it is."""
    return node.argument if isinstance(node, Absolute) else node


def intervals(region: Region) -> tuple[Interval, ...]:
    """The intervals of a region, from left to right."""
    return region.parts if isinstance(region, Union) else (region,)


def as_inequality(part: Interval, variable: str) -> Inequality | None:
    """An interval said of a variable: `0 < x < 3`, `x >= 1`; None for the whole line."""
    low, high = part.lower != Negative(Infinity()), part.upper != Infinity()
    name, right = Name(variable), "<=" if part.closed_upper else "<"
    if low and high:
        return Inequality(Inequality(part.lower, "<=" if part.closed_lower else "<", name), right, part.upper)
    if low:
        return Inequality(name, ">=" if part.closed_lower else ">", part.lower)
    return Inequality(name, right, part.upper) if high else None


def without_constant(answer: Node) -> Node:
    """An antiderivative without the terms that are its constant of integration."""
    return add(*(term for term in summands(answer) if not contains(term, ArbitraryConstant)))
