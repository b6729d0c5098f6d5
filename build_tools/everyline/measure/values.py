"""Values of an expression to N digits, each with a bound on its error."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import inf, nextafter
from typing import Any

from flint import arb, ctx

from ..arithmetic.balls import value
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..notation.build import number
from ..notation.tree import Evaluation, Node

#: Bits of the first try and the last; each try has twice as many as the one before.
FIRST, LAST = 64, 16384


@dataclass(frozen=True, slots=True)
class Enclosed:
    """`text` is a decimal number, and the true value is at most `error` away from it (from `float(text)`: at most `float_error`)."""

    text: str
    error: float
    float_error: float


def enclose(node: Node, point: Mapping[str, Fraction] | None = None, digits: int = 15) -> Enclosed | None:
    """The value of a tree where its names have the rational values `point`, to about `digits` significant digits (of a value
    that is or may be zero: decimals). An integral with limits is found by rigorous quadrature.

    None: it has no real value there, or has not been shown to have one (at a removable point, say), or is too much.
    """
    program = Program("", {name: number(v) for name, v in (point or {}).items()})
    bits = FIRST
    try:
        entry = program.add(node)
        while bits <= LAST:
            with ctx.workprec(bits):
                here = value(program, entry, {})
                # What may be zero is compared with 1 in the end.
                size = max(abs(here).lower(), arb(int(bits > 8 * FIRST)))
                if here.is_finite() and here.rad() <= size * arb(10) ** -(digits + 1):
                    return _enclosed(here, digits)
            bits *= 2
    except (Undefined, Unsure, NotSupported, Budget):
        return None
    return None


def _enclosed(here: Any, digits: int) -> Enclosed:
    text = here.str(digits, radius=False)
    return Enclosed(text, _above(abs(arb(text) - here)), _above(abs(arb(float(text)) - here)))


def _above(distance: Any) -> float:
    return nextafter(float(distance.upper()), inf)


def increment(node: Node, variable: str, start: Fraction, end: Fraction, digits: int = 15) -> Enclosed | None:
    """How much a tree grows from `start` to `end`, as `enclose` gives it: free of any constant added to the tree."""
    return enclose(Evaluation(node, variable, number(start), number(end)), {}, digits)
