"""Wrong keys by the hundred from one right key, and an opinion on them that has nothing of ours in it: mpmath at 50 digits."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from random import Random
from typing import Any

import mpmath

from everyline.notation.build import ONE, TWO, add, children, divide, multiply, number, power
from everyline.notation.question import Question
from everyline.notation.tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Infinity,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Union,
)
from everyline.slips.corruptions import assemble, corruptions, mutations

DIGITS = 50
#: Irregular points of every size that a first course meets.
POINTS = [Fraction(p) for p in ("7/11", "-5/13", "23/17", "-31/19", "58/21", "-77/23", "9/64", "-13/90", "211/29", "-305/31")]


def wrong_keys(key: Node, variable: str, draw: Random, wanted: int) -> Iterator[Node]:
    """Up to so many different changed keys: first one change, then two, small changes of numbers and swapped operations."""
    first = list(corruptions(key, variable))
    draw.shuffle(first)
    seen = {key: None, **dict.fromkeys(first)}
    yield from first[:wanted]
    for _ in range(20 * wanted):
        if len(seen) > wanted or not first:
            return
        changed = draw.choice([_twice, _nudged, _swapped])(draw.choice([key, *first]), draw)
        if changed is not None and changed not in seen:
            seen[changed] = None
            yield changed


def _twice(key: Node, draw: Random) -> Node | None:
    return draw.choice(list(mutations(key)) or [None])


def _nudged(key: Node, draw: Random) -> Node | None:
    """A number a little larger or smaller, or a term that is next to nothing."""
    by = Fraction(draw.choice((1, -1)), draw.choice((7, 100, 10**6, 10**12, 10**30)))
    return draw.choice(list(_with_numbers(key, by)) or [None])


def _with_numbers(node: Node, by: Fraction) -> Iterator[Node]:
    if isinstance(node, Number):
        yield number(node.value + by)
    elif isinstance(node, Name):
        yield multiply(number(1 + by), node)
    parts = children(node)
    for place, part in enumerate(parts):
        for changed in _with_numbers(part, by):
            yield assemble(node, (*parts[:place], changed, *parts[place + 1 :]))


def _swapped(key: Node, draw: Random) -> Node | None:
    return draw.choice(list(_operations(key)) or [None])


def _operations(node: Node) -> Iterator[Node]:
    """The tree with one operation taken for another."""
    match node:
        case Sum(parts):
            yield multiply(*parts)
        case Product(parts):
            yield from (add(*parts), divide(parts[0], multiply(*parts[1:])))
        case Quotient(top, bottom):
            yield from (add(top, bottom), power(top, bottom))
        case Power(base, exponent):
            yield from (multiply(exponent, base), power(exponent, base), Call("exp", base))
        case Root(radicand, _):
            yield divide(radicand, TWO)
        case Call(_, argument):
            yield from (argument, divide(ONE, node))
    parts = children(node)
    for place, part in enumerate(parts):
        for changed in _operations(part):
            yield assemble(node, (*parts[:place], changed, *parts[place + 1 :]))


def surely_wrong(question: Question, key: Node) -> bool:
    """Whether mpmath finds a point where question and key both have real values and the derivatives differ plainly.

    The derivative is mpmath's (differences at raised precision), the values are those of the functions of the same names.
    """
    names = sorted({question.variable, *(p.name for p in question.given.parameters)})
    with mpmath.workdps(DIGITS):
        for x in (p + shift for shift, p in product((0, Fraction(3, 97)), POINTS)):
            if not _asked_about(question, x):
                continue
            at = {name: mpmath.mpf(x.numerator) / x.denominator + place for place, name in enumerate(names)}
            left, right = (question.body, key) if question.kind == "indefinite" else (key, question.body)
            try:
                here = value(left, at)
                slope = mpmath.diff(lambda t, at=at, right=right: value(right, {**at, question.variable: t}), at[question.variable])
            except (ValueError, ZeroDivisionError, OverflowError, ArithmeticError):
                continue
            size = 1 + abs(here) + abs(slope)
            if mpmath.isfinite(size) and size < 1e12 and abs(here - slope) > mpmath.mpf(10) ** -18 * size:
                return True
    return False


def _asked_about(question: Question, x: Fraction) -> bool:
    """Whether a point, and some room on either side of it, lies in the stated domain."""
    domain = question.domain
    parts = domain.parts if isinstance(domain, Union) else (domain,) if domain else ()
    ends = [(_end(part.lower), _end(part.upper)) for part in parts] or [(-mpmath.inf, mpmath.inf)]
    here = mpmath.mpf(x.numerator) / x.denominator
    return any(low + 0.4 < here < high - 0.4 or (low + 1e-3 < here < high - 1e-3 and high - low < 2) for low, high in ends)


def _end(node: Node) -> Any:
    sense = -1 if isinstance(node, Negative) else 1
    inner = node.argument if isinstance(node, Negative) else node
    return sense * mpmath.inf if isinstance(inner, Infinity) else sense * value(inner, {})


def value(node: Node, at: dict[str, Any]) -> Any:
    """The real value of a tree by mpmath; ValueError where it has none."""
    found = _value(node, at)
    if not mpmath.isfinite(found) or mpmath.im(found) != 0:
        raise ValueError("no real value")
    return mpmath.re(found)


def _value(node: Node, at: dict[str, Any]) -> Any:
    parts = [value(part, at) for part in children(node)]
    match node:
        case Number(exact):
            return mpmath.mpf(exact.numerator) / exact.denominator
        case Constant(name):
            return mpmath.pi if name == "pi" else mpmath.e
        case Name(name):
            return at[name]
        case ArbitraryConstant():
            return mpmath.mpf(0)
        case Negative():
            return -parts[0]
        case Sum():
            return mpmath.fsum(parts)
        case Product():
            return mpmath.fprod(parts)
        case Quotient():
            return parts[0] / parts[1]
        case Root(_, index):
            return _power(parts[0], Fraction(1, index))
        case Absolute():
            return abs(parts[0])
        case Power(_, exponent):
            exact = _rational(exponent)
            return mpmath.power(*parts) if exact is None else _power(parts[0], exact)
        case Call(function, _):
            return FUNCTIONS[function](parts[0])
    raise ValueError(type(node).__name__)


def _rational(node: Node) -> Fraction | None:
    match node:
        case Number(exact):
            return exact
        case Negative(inner):
            exact = _rational(inner)
            return None if exact is None else -exact
        case Quotient(top, bottom):
            above, below = _rational(top), _rational(bottom)
            return above / below if above is not None and below else None
    return None


def _power(base: Any, exponent: Fraction) -> Any:
    if abs(exponent.numerator) > 10**4:
        raise ValueError("too large")
    if exponent.denominator % 2 and base < 0:  # odd roots of negative numbers are real here
        return (-1) ** (exponent.numerator % 2) * (-base) ** (mpmath.mpf(exponent.numerator) / exponent.denominator)
    return base ** (mpmath.mpf(exponent.numerator) / exponent.denominator)


FUNCTIONS: dict[str, Any] = {
    "sin": mpmath.sin, "cos": mpmath.cos, "tan": mpmath.tan, "sec": mpmath.sec, "csc": mpmath.csc, "cot": mpmath.cot,
    "arcsin": mpmath.asin, "arccos": mpmath.acos, "arctan": mpmath.atan, "arcsec": mpmath.asec, "arccsc": mpmath.acsc,
    "arccot": lambda u: mpmath.pi / 2 - mpmath.atan(u), "sinh": mpmath.sinh, "cosh": mpmath.cosh, "tanh": mpmath.tanh,
    "sech": mpmath.sech, "csch": mpmath.csch, "coth": mpmath.coth, "arsinh": mpmath.asinh, "arcosh": mpmath.acosh,
    "artanh": mpmath.atanh, "arsech": mpmath.asech, "arcsch": mpmath.acsch, "arcoth": mpmath.acoth, "ln": mpmath.log,
    "exp": mpmath.exp, "sgn": mpmath.sign,
}  # fmt: skip
