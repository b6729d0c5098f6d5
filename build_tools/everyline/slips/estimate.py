"""A guess at the value of a limit: the function close to its point, read as a simple number. The kernel says whether it is right."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from ..notation.build import E, number, power
from ..notation.tree import Infinity, Limit, Negative, Node
from .floats import at

_STEP = 1e-4


def likely_values(limit: Limit) -> Iterator[Node]:
    """Fractions and whole powers of e that the function comes close to, from the side that the limit asks for."""
    for point in _close_by(limit):
        value = at(limit.body, {limit.variable: point})
        if value is None:
            continue
        near = Fraction(value).limit_denominator(60)
        if abs(near - value) < 20 * _STEP * (1 + abs(value)):
            yield number(near)
        if value > 0 and abs(math.log(value) - round(math.log(value))) < 20 * _STEP and round(math.log(value)):
            yield power(E, round(math.log(value)))
        return


def _close_by(limit: Limit) -> tuple[float, ...]:
    match limit.point:
        case Infinity():
            return (1 / _STEP, 100.0, 20.0)
        case Negative(argument=Infinity()):
            return (-1 / _STEP, -100.0, -20.0)
    centre = at(limit.point, {})
    if centre is None:
        return ()
    return tuple(centre + sign * _STEP for sign in (1, -1) if limit.side in ("", "+" if sign > 0 else "-"))
