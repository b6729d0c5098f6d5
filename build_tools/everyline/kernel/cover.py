"""Where expressions are defined and analytic: the components of a domain."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from typing import Any

from flint import arb

from ..arithmetic.balls import ball, run, value
from ..arithmetic.program import Program
from ..arithmetic.stops import Undefined, Unsure
from ..notation.tree import Infinity, Interval, Negative, Node, Region, Union
from .bisection import Bisection, inside
from .guards import atoms, polynomial, real_roots

INFINITY = arb.pos_inf()


@dataclass(slots=True)
class Piece:
    """A component: the open interval between two ends (balls), and a rational point in it."""

    lower: Any
    upper: Any
    sample: Fraction


@dataclass(slots=True)
class Cover:
    """The components found, the special points between two of them, the first place where only the reference is defined.

    `window`: how far out was looked, if not everywhere. `unresolved`: there may be a sliver with another sign pattern.
    """

    pieces: list[Piece] = field(default_factory=list)
    between: list[Any] = field(default_factory=list)
    undefined: Fraction | None = None
    window: str = ""
    unresolved: bool = False


def infinite(node: Node) -> int:
    """1 for infinity, -1 for minus infinity, 0 for a number."""
    return 1 if isinstance(node, Infinity) else -1 if node == Negative(Infinity()) else 0


def ends(domain: Region | None, bound: Mapping[str, Node]) -> list[tuple[Any, Any]]:
    """The intervals of a region as pairs of balls, infinite ends included."""
    parts: tuple[Interval, ...] = domain.parts if isinstance(domain, Union) else () if domain is None else (domain,)
    program = Program("", bound)

    def end(node: Node) -> Any:
        return infinite(node) * INFINITY if infinite(node) else value(program, program.add(node), {})

    return [(end(p.lower), end(p.upper)) for p in parts] or [(-INFINITY, INFINITY)]


def cover(
    program: Program, reference: tuple[int, ...], wanted: tuple[int, ...], compared: int, domain: list[tuple[Any, Any]],
    fixed: Mapping[str, Any], deadline: float,
) -> Cover:  # fmt: skip
    """The components on which the reference and the wanted entries are analytic.

    Only kinks of the entry `compared` matter for what is said of whole components. Stops at the first place where the reference
    is surely defined and a wanted entry surely is not.
    """
    order = program.order(*reference, *wanted)
    first = frozenset(program.order(*reference))
    sorted_out = {entry: polynomial(program, entry) for entry in atoms(program, order)}
    polynomials = [poly for poly in sorted_out.values() if poly is not None]
    others = len(polynomials) < len(sorted_out)
    kinks = [entry for entry, kinked in atoms(program, program.order(compared)).items() if kinked and sorted_out[entry] is None]
    roots = real_roots(polynomials)
    result = Cover()

    def state(box: Any) -> str:
        try:
            run(program, order, {**fixed, program.variable: box})
        except Undefined as stop:
            return "outside" if stop.args[0] in first else "undefined"
        except Unsure:
            return "unsure"
        return "fine"

    for lower, upper in domain:
        joined = False
        marks = [lower, *(r for r in roots if r > lower and r < upper), upper]
        for low, high in pairwise(marks):
            if others:
                search = Bisection(program, state, kinks, fixed, deadline)
                found = search.runs(low, high)
                result.window, result.unresolved = search.window or result.window, result.unresolved or search.unresolved
            else:
                sample = inside(low, high)
                found = [(low, high, sample, state(ball(sample)))]
            for a, b, sample, verdict in found:
                if verdict == "undefined":
                    result.undefined = sample
                    return result
                if verdict == "fine":
                    if joined:
                        result.between.append((result.pieces[-1].upper, a))
                    result.pieces.append(Piece(a, b, sample))
                joined = verdict == "fine"
    return result
