"""Wrong keys by the hundred from one right key, and an opinion on them that has nothing of ours in it: mpmath at 50 digits."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from random import Random
from typing import Any

import mpmath
from numeric import value

from everyline.notation.build import ONE, TWO, add, children, divide, multiply, number, power
from everyline.notation.question import Question
from everyline.notation.tree import Call, Infinity, Name, Negative, Node, Number, Power, Product, Quotient, Root, Sum, Union
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
            if not within(question, x):
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


def seems_wrong(question: Question, key: Node) -> bool:
    """Whether it is surely wrong, or has no real value at a point of the domain at which the question has one."""
    return surely_wrong(question, key) or any(is_real(question.body, question, x) and not is_real(key, question, x) for x in POINTS)


def is_real(node: Node, question: Question, x: Fraction) -> bool:
    try:
        return within(question, x) and bool(mpmath.isfinite(value(node, {question.variable: mpmath.mpf(x.numerator) / x.denominator})))
    except (ValueError, ArithmeticError):
        return False


def within(question: Question, x: Fraction) -> bool:
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
