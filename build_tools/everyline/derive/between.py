"""What is between two antiderivatives of one function: a constant, or one for each interval of its domain."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from fractions import Fraction
from itertools import pairwise
from math import exp, inf

from ..algebra.common import over_one
from ..algebra.expand import multiply_out
from ..algebra.numbers import INFINITY, MINUS, number_of
from ..algebra.poly import linear
from ..algebra.tidy import tidy
from ..algebra.zeros import zeros_between
from ..kernel import Checked, Equal, Setting, Undecided
from ..kernel.check import samples
from ..notation.build import (
    ONE,
    PI,
    ZERO,
    add,
    call,
    contains,
    divide,
    multiply,
    names,
    negate,
    number,
    numbers,
    power,
    rational,
    rebuild,
    root,
    size,
    substitute,
    subtract,
    summands,
    walk,
)  # fmt: skip
from ..notation.question import Question
from ..notation.tree import Absolute, Call, Interval, Name, Negative, Node, Power, Product, Quotient, Region, Root, Sum
from .budget import judged

SECONDS = 1.0
#: How many intervals are told apart, at how many places constants are looked for, and which window is looked at where functions come
#: back again and again.
MOST, PLACES, WINDOW = 6, 5, Interval(number(-3), number(3))
_PLACES = (
    ZERO,
    ONE,
    tidy(divide(PI, number(4))),
    number(2),
    tidy(divide(PI, number(2))),
    number(-1),
    number(Fraction(1, 2)),
    number(5),
    number(-5),
)
#: Constants of inverse functions are parts of π like these, and simple numbers have no larger denominators.
_PARTS = 24

Found = tuple[Interval | None, Node, Checked]


def between(question: Question, a: Node, b: Node) -> tuple[Found, ...]:
    """The constant a - b with the kernel's word for it: one for all of the domain, else one for each interval.

    Where functions come back again and again it is that of the window that is looked at; empty where nothing is found.
    """
    whole = _constant(question, a, b, question.domain)
    if whole is not None:
        return ((None, *whole),)
    apart = [(region, _constant(question, a, b, region)) for region in _intervals(question, a, b)]
    found = tuple((region, *one) for region, one in apart if one is not None)
    if apart and len(found) == len(apart):
        return found
    seen = _constant(question, a, b, WINDOW) if question.domain is None else None
    return () if seen is None else ((WINDOW, *seen),)


def _constant(question: Question, a: Node, b: Node, region: Region | None) -> tuple[Node, Checked] | None:
    setting = Setting(question.variable, region, question.given)
    for value in dict.fromkeys(_candidates(question, a, b, region)):
        sides = (a, tidy(add(b, value)))
        for left, right in (sides, sides[::-1]):  # what is defined in fewer places goes to the left
            verdict = judged(Equal(left, right, setting), SECONDS)
            if isinstance(verdict, Checked):
                return value, verdict
            if isinstance(verdict, Undecided) and verdict.reason == "budget":
                return None
    return None


def _candidates(question: Question, a: Node, b: Node, region: Region | None) -> Iterator[Node]:
    x = question.variable
    plain = tidy(subtract(multiply_out(a, x), multiply_out(b, x)))
    if x not in names(plain):
        yield plain
    found: list[Node] = []
    for place in _looked_at(question, region):
        with suppress(ZeroDivisionError):
            value = tidy(substitute(subtract(a, b), {x: place}))
            ball = number_of(_numbered(question, value))
            if ball is not None and ball.is_finite():
                zero = ball.contains(0) and ball.rad() < 1e-20
                found += [ZERO] if zero else [*_parts_of_pi(value, ball), *_logarithm(value, ball), _collected(value), value]
        if len(found) > PLACES:
            break
    yield from sorted(found, key=size)


def _collected(value: Node) -> Node:
    """Logarithms of numbers brought together: ln 3 - ln 9 is -ln 3, and ln 3a - ln a is ln 3."""
    inside, others = Fraction(1), []
    apart = tidy(_logarithms_apart(value))
    for term in summands(apart):
        positive = term.argument if isinstance(term, Negative) else term
        found = rational(positive.argument) if isinstance(positive, Call) and positive.function == "ln" else None
        if found is None or found <= 0:
            others.append(term)
        else:
            inside *= 1 / found if isinstance(term, Negative) else found
    below = inside < 1
    logarithm = ZERO if inside == 1 else call("ln", number(1 / inside if below else inside))
    return tidy(add(*others, negate(logarithm) if below else logarithm))


def _logarithms_apart(node: Node) -> Node:
    """The logarithm of a number times something as two logarithms."""
    inner = node.argument if isinstance(node, Call) and node.function == "ln" else None
    first = rational(inner.factors[0]) if isinstance(inner, Product) else None
    if isinstance(inner, Product) and first is not None and first > 0:
        return add(call("ln", inner.factors[0]), call("ln", multiply(*inner.factors[1:])))
    return rebuild(node, _logarithms_apart)


def _parts_of_pi(value: Node, ball: object) -> Iterator[Node]:
    share = float(ball) / 3.141592653589793 * _PARTS  # type: ignore[arg-type]
    if contains(value, Call) and abs(share) < 1000 and abs(share - round(share)) < 1e-12:
        yield tidy(multiply(number(Fraction(round(share), _PARTS)), PI))


def _logarithm(value: Node, ball: object) -> Iterator[Node]:
    """The logarithm of a simple number, or half of it, where others come to it: ln(tan 1) - ln(tan 1 + 1) - ln(tan 1 - 1) - ln(-tan 2)."""
    size = float(ball)  # type: ignore[arg-type]
    for times in (1, 2) if contains(value, Call) and 1e-9 < abs(size) < 4 else ():
        inside = Fraction(exp(times * abs(size))).limit_denominator(_PARTS)
        if abs(exp(times * abs(size)) / inside - 1) < 1e-12:
            yield tidy(multiply(number(Fraction(1 if size > 0 else -1, times)), call("ln", number(inside))))
            return


def _looked_at(question: Question, region: Region | None) -> Iterator[Node]:
    """Where values are likely to be known: the question's letters and small numbers; of an interval its ends and what is inside."""
    letters = [Name(p.name) for p in question.given.parameters]
    places = (*letters, *(negate(letter) for letter in letters), *_PLACES)
    if not isinstance(region, Interval):
        yield from places
        return
    ends = [end for end in (region.lower, region.upper) if end not in (INFINITY, MINUS)]
    yield from (*ends, *(place for place in places if _is_in(question, region, place)), _middle(region))


def _is_in(question: Question, region: Interval, place: Node) -> bool:
    low, at, high = (_size(question, node) for node in (region.lower, place, region.upper))
    return low is not None and at is not None and high is not None and low < at < high


def _size(question: Question, node: Node) -> float | None:
    if node in (INFINITY, MINUS):
        return inf if node == INFINITY else -inf
    ball = number_of(_numbered(question, node))
    return None if ball is None or not ball.is_finite() else float(ball)


def _middle(region: Interval) -> Node:
    if region.lower == MINUS:
        return ZERO if region.upper == INFINITY else tidy(subtract(region.upper, ONE))
    return tidy(add(region.lower, ONE)) if region.upper == INFINITY else tidy(divide(add(region.lower, region.upper), number(2)))


def _numbered(question: Question, node: Node) -> Node:
    """A tree with numbers for its letters, to be looked at; nothing is decided by it."""
    chosen = next(iter(samples(question.given)), {}) if question.given.parameters else {}
    return substitute(node, numbers(chosen))


# -- intervals ------------------------------------------------------------------------------------------------------


def _intervals(question: Question, a: Node, b: Node) -> tuple[Interval, ...]:
    """The intervals of the domain between the places where something is not defined or turns its sign."""
    placed: dict[float, Node] = {}
    for part in dict.fromkeys(part for tree in (question.body, a, b) for part in _guards(tree)):
        for zero in _zeros(part, question.variable):
            at = _size(question, zero)
            if at is not None:
                placed.setdefault(round(at, 9), zero)
    ends = [MINUS, *(placed[at] for at in sorted(placed)), INFINITY]
    if isinstance(question.domain, Interval):
        return ()
    found = tuple(Interval(low, high) for low, high in pairwise(ends))
    return tuple(each for each in found if _defined(question, each)) if len(found) <= MOST + 2 else ()


def _defined(question: Question, region: Interval) -> bool:
    with suppress(ZeroDivisionError):
        ball = number_of(_numbered(question, substitute(question.body, {question.variable: _middle(region)})))
        return ball is not None and ball.is_finite()
    return False


def _guards(tree: Node) -> Iterator[Node]:
    for part in walk(tree):
        match part:
            case Quotient(bottom=inner) | Absolute(argument=inner) | Root(radicand=inner):
                yield inner
            case Call(function="ln", argument=inner):
                yield inner
            case Call(function="arcsin" | "arccos" | "arcsec" | "arccsc", argument=inner):
                yield from (subtract(inner, ONE), add(inner, ONE))
            case Power(base=inner, exponent=exponent) if not names(exponent):
                yield inner


def _zeros(part: Node, x: str) -> list[Node]:
    """The zeros, also those with letters where they are plain to see: x + a, x² - a²."""
    neat = tidy(part)
    if isinstance(neat, Quotient):
        return _zeros(neat.top, x) + _zeros(neat.bottom, x)
    one = over_one(neat) if isinstance(neat, Sum) else None
    if one is not None:
        return _zeros(one[0], x)
    line = linear(neat, x)
    if line is not None:
        return [tidy(negate(divide(line[1], line[0])))]
    rest = tidy(subtract(neat, power(Name(x), 2)))
    if x not in names(rest):
        far = tidy(root(tidy(negate(rest))))
        return [tidy(negate(far)), far]
    return zeros_between(neat, x, MINUS, INFINITY) or []
