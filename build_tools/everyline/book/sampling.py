"""Numbers for the page: points of a question's domain, and values there with a bound on their error.

The one place of this room that asks for balls; everything else works with the doubles that it returns.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor, log10
from time import process_time
from typing import Any

from flint import ctx

from ..arithmetic.balls import ball, value
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..kernel.check import samples
from ..kernel.cover import cover, ends
from ..notation.build import numbers
from ..notation.question import Given, Question
from ..notation.tree import Derivative, Node

#: More than the 30 digits that a difference of two values must keep.
BITS = 160
#: How far from zero points are chosen where an interval has no end.
REACH = 3.7
#: Irregular shares of an interval, so that a coincidence at some points is none at the others; no two differ by a simple part.
SHARES = (0.0613, 0.1289, 0.2137, 0.2741, 0.3469, 0.4157, 0.4703, 0.5519, 0.6211, 0.6883, 0.7507, 0.8293, 0.8929, 0.9467)
#: Intervals shorter than this are left out.
NARROWEST = 0.01
Parameters = Mapping[str, Fraction]


@dataclass(frozen=True, slots=True)
class Sampled:
    """Values at some points, as doubles; `bound` is how far each of them may be from the true one."""

    values: tuple[float, ...]
    bound: float


def choices(given: Given, most: int) -> tuple[Parameters, ...]:
    """Admissible values of the parameters, at most so many choices of them; one empty choice where there are none."""
    return tuple(samples(given)[:most]) if given.parameters else ({},)


def components(question: Question, answer: Node, fixed: Parameters, seconds: float = 1.0) -> tuple[tuple[float, float], ...]:
    """The intervals (with ends that may be infinite) on which the question's function and its answer are both analytic, in order.

    Nearest to zero first. Empty where none could be found within the time.
    """
    program = Program(question.variable, numbers(fixed))
    try:
        body = program.add(question.body)
        order = question.node.order if isinstance(question.node, Derivative) else 0
        reference = body if order == 0 else program.add(Derivative(question.body, question.variable, order))
        goal = program.add(answer)
        region = ends(question.domain, program.bound)
        found = cover(program, (body, reference), (goal,), reference, region, {}, process_time() + seconds)
    except (Budget, NotSupported, Undefined, Unsure):
        return ()
    pieces = [(float(low.mid()), float(high.mid())) for low, high, _ in found.pieces]
    pieces = [(low, high) for low, high in pieces if high - low > NARROWEST]
    return tuple(sorted(pieces, key=lambda piece: (max(0.0, piece[0], -piece[1]), piece)))


def points(piece: tuple[float, float], attempt: int, part: float = 1.0) -> tuple[float, ...]:
    """Irregular rational points inside an interval, or a `part` of it, as doubles of few digits; another `attempt` gives others."""
    low, high = piece
    low, high = max(low, min(high, 0.0) - REACH), min(high, max(low, 0.0) + REACH)
    low, width = low + (high - low) * (1 - part) * 0.6, (high - low) * part
    digits = 4 - min(0, floor(log10(width)))
    shift = 0.0071 * attempt
    return tuple(round(low + width * ((share + shift * (place + 1)) % 1.0 * 0.96 + 0.02), digits) for place, share in enumerate(SHARES))


def sampled(node: Node, variable: str, at: Sequence[float], fixed: Parameters, *, increments: bool) -> Sampled | None:
    """The values of a tree at some points, or what each exceeds the first by; None where it is not defined at one of them."""
    with ctx.workprec(BITS):
        try:
            balls = list(_balls(node, variable, at, fixed))
        except (Budget, NotSupported, Undefined, Unsure):
            return None
        if increments:
            balls = [here - balls[0] for here in balls]
        if not all(here.is_finite() for here in balls):
            return None
        values = tuple(float(here.mid()) for here in balls)
        radius = max(float(here.rad()) for here in balls)
    return Sampled(values, radius + max(map(abs, values)) * 2.0**-53)


def _balls(node: Node, variable: str, at: Sequence[float], fixed: Parameters) -> Iterator[Any]:
    program = Program(variable, numbers(fixed))
    goal = program.add(node)
    for point in at:
        yield value(program, goal, {variable: ball(Fraction(point))})


def graph(node: Node, variable: str, at: Sequence[float], fixed: Parameters) -> list[float | None]:
    """The values of a tree for a drawing, to double precision; None at a point where it has none."""
    found: list[float | None] = []
    with ctx.workprec(64):
        try:
            program = Program(variable, numbers(fixed))
            goal = program.add(node)
        except (Budget, NotSupported):
            return [None] * len(at)
        for point in at:
            try:
                here = value(program, goal, {variable: ball(Fraction(point))})
                found.append(float(here.mid()) if here.is_finite() else None)
            except (Budget, NotSupported, Undefined, Unsure):
                found.append(None)
    return found


def constant(node: Node, fixed: Parameters) -> Sampled | None:
    """The value of a tree without a variable; None where it has none."""
    return sampled(node, "", (0.0,), fixed, increments=False)
