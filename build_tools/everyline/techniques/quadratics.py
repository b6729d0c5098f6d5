"""Quadratics as techniques meet them: A·ℓ² + B with a linear ℓ, and ax² + bx + c."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..algebra.numbers import sign as numeric_sign
from ..algebra.poly import by_degree, linear
from ..algebra.terms import term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ZERO, add, divide, multiply, names, negate, number, power, rational, subtract
from ..notation.question import Given, Question
from ..notation.tree import Inequality, Name, Node, Power, Sum
from .forms import square_root


@dataclass(frozen=True, slots=True)
class Centred:
    """A·ℓ² + B: `line` is ℓ, `slope` its derivative."""

    leading: Node
    line: Node
    slope: Node
    constant: Node


def centred(node: Node, variable: str) -> Centred | None:
    """A sum read as A·ℓ² + B, where it is written so."""
    if not isinstance(node, Sum):
        return None
    squares: list[tuple[Node, Node]] = []
    rest: list[Node] = []
    for t in node.terms:
        if variable not in names(t):
            rest.append(t)
            continue
        term = term_of(t)
        moving = [(b, e) for b, e in term.powers if variable in names(b)]
        if len(moving) != 1 or moving[0][1] != 2 or linear(moving[0][0], variable) is None:
            return None
        squares.append((moving[0][0], join(term.without(moving[0][0]))))
    if len(squares) != 1 or not rest:
        return None
    line, leading = squares[0]
    slope = linear(line, variable)
    assert slope is not None
    return Centred(leading, line, slope[0], tidy(add(*rest)))


def sign(node: Node, given: Given) -> int:
    """1 or -1 where the sign of a constant is plain or given, else 0."""
    value = rational(node)
    if value is not None:
        return (value > 0) - (value < 0)
    if not names(node):
        return numeric_sign(node)
    term = term_of(node)
    result = 1 if term.coefficient > 0 else -1
    for base, exponent in term.powers:
        if isinstance(exponent, Fraction) and exponent.numerator % 2 == 0:
            continue
        if isinstance(base, Name) and base.name not in positive_names(given):
            return 0
        if isinstance(base, Sum):
            return 0
    return result


def positive_names(given: Given) -> frozenset[str]:
    found = set()
    for condition in given.conditions:
        assert isinstance(condition, Inequality)
        left, relation, right = condition.left, condition.relation, condition.right
        if relation in ("<", "<="):
            left, right = right, left
        value = rational(right)
        if relation != "!=" and isinstance(left, Name) and value is not None and value >= 0:
            found.add(left.name)
    return frozenset(found)


def root_of(node: Node, question: Question) -> Node:
    return square_root(node, positive_names(question.given))


def quadratic(node: Node, variable: str) -> tuple[Node, Node, Node] | None:
    """(a, b, c) of ax² + bx + c, a not zero."""
    values = by_degree(node, variable, 2)
    return None if values is None or len(values) != 3 else (values[2], values[1], values[0])


def completed(node: Node, variable: str) -> Node | None:
    """a(x + b/2a)² + (c - b²/4a), where there is a linear term."""
    found = quadratic(node, variable)
    if found is None or found[1] == ZERO:
        return None
    a, b, c = found
    half = tidy(divide(b, multiply(number(2), a)))
    constant = tidy(subtract(c, divide(power(b, 2), multiply(number(4), a))))
    square = Power(tidy(add(Name(variable), half)), number(2))
    rest = (constant,) if constant != ZERO else ()
    if rational(a) is not None and rational(a) < 0 and rest:  # type: ignore[operator]
        return add(*rest, negate(tidy(multiply(negate(a), square))))
    return add(tidy(multiply(a, square)), *rest)
