"""The natural domain of an expression as open intervals, and points in them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import inf, nextafter
from time import monotonic
from typing import Any

from flint import arb, ctx

from ..arithmetic.balls import ball
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Unsure
from ..kernel.bisection import FINE, exact_place, inside
from ..kernel.cover import atoms, cover, ends
from ..kernel.ladder import PRECISION
from ..notation.build import negate, number
from ..notation.question import Question
from ..notation.tree import Infinity, Integral, Interval, Node, Region, Union

#: A gap as wide as this is wide enough to be halved before narrower ones, whatever its true width.
WIDE = 8.0


@dataclass(frozen=True, slots=True)
class End:
    """An end of an interval, between `low` and `high` (±inf for an infinite end), and as a tree where it is known exactly.

    In a `window` that bisection looked at, an end that is not known exactly may be that of the window.
    """

    low: float
    high: float
    exact: Node | None = None


@dataclass(frozen=True, slots=True)
class Component:
    """An open interval on which an expression is defined and analytic, with a short rational number in it.

    Past `window` (if there is one) nothing was looked at: a periodic expression has endlessly many components.
    """

    lower: End
    upper: End
    sample: Fraction
    window: str = ""


def components(
    body: Node, variable: str, domain: Region | None = None, values: Mapping[str, Fraction] | None = None, *, seconds: float = 2.0
) -> tuple[Component, ...]:
    """The intervals of the real line (or of `domain`) on which `body` is analytic, from left to right; empty if they are not found.

    `values` are those of the parameters. An end inside `domain` is a pole, a zero under a root or of an absolute value, or
    the like; whether `body` has a value at it is not said.
    """
    bound = {name: number(value) for name, value in (values or {}).items()}
    program, deadline = Program(variable, bound), monotonic() + seconds
    with ctx.workprec(PRECISION):
        try:
            entry = program.add(body)
            found = cover(program, (entry,), (), entry, ends(domain, bound), {}, deadline)
        except (Budget, NotSupported, Unsure):
            return ()
        guards = list(atoms(program, program.order(entry)))
        stated = [(ends(Interval(node, node), bound)[0][0], node) for node in _stated(domain)]

        def end(inner: Any, outer: Any, sense: int) -> End:
            """The end of a piece that is `inner` or, found by bisection, past it by a little; `outer` is where the next piece begins."""
            if not inner.is_finite():
                return End(float(inner.mid()), float(inner.mid()), Infinity() if inner > 0 else negate(Infinity()))
            for there, node in stated:
                if there.overlaps(inner):
                    return End(_below(there), _above(there), node)
            reach = inner if inner.rad() > 0 or not found.window else inner + sense * 4 * FINE * max(1.0, abs(float(inner)))
            spot = inner.union(outer if abs(outer - inner) < abs(reach - inner) * 2 else reach)
            place = next(filter(None, (exact_place(program, [guard], spot, deadline) for guard in guards)), None)
            there = ends(Interval(place, place), bound)[0][0] if place else spot
            return End(_below(there), _above(there), place)

        left = [-arb.pos_inf(), *(piece.upper for piece in found.pieces)]
        right = [*(piece.lower for piece in found.pieces), arb.pos_inf()][1:]
        return tuple(
            Component(end(piece.lower, before, -1), end(piece.upper, after, 1), piece.sample, found.window)
            for before, piece, after in zip(left, found.pieces, right, strict=False)
        )


def _below(here: Any) -> float:
    return nextafter(float(here.lower()), -inf)


def _above(here: Any) -> float:
    return nextafter(float(here.upper()), inf)


def _stated(domain: Region | None) -> list[Node]:
    parts = domain.parts if isinstance(domain, Union) else (domain,) if domain else ()
    return [end for part in parts for end in (part.lower, part.upper)]


def question_components(question: Question, values: Mapping[str, Fraction] | None = None) -> tuple[Component, ...]:
    """The components of what a question is about: of the integrand between its limits, else of the stated or natural domain."""
    domain = question.domain
    match question.node:
        case Integral(_, _, Node() as lower, Node() as upper):
            low, high = ends(Interval(lower, upper), {name: number(value) for name, value in (values or {}).items()})[0]
            domain = Interval(upper, lower) if high < low else Interval(lower, upper)
    return components(question.body, question.variable, domain, values)


def points(component: Component, count: int) -> tuple[Fraction, ...]:
    """Up to `count` rational numbers in a component, from left to right: at irregular distances, and short where there is room."""
    edges = [arb(component.lower.high), ball(component.sample), arb(component.upper.low)]
    found = [component.sample]
    while len(found) < count:
        widths = [min(float(b - a), WIDE) for a, b in pairwise(edges)]
        place = widths.index(max(widths))
        try:
            found.append(inside(edges[place], edges[place + 1]))
        except Unsure:
            break
        edges.insert(place + 1, ball(found[-1]))
    return tuple(sorted(found))
