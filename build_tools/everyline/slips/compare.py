"""Whether two answers look the same, and whether one looks right: by floats, at points where the question makes sense.

Nothing here decides anything: it only spares the kernel the many guesses that are plainly wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache

from ..algebra.derivative import NotSupported, derivative
from ..notation.build import intervals
from ..notation.question import Question
from ..notation.tree import Derivative, Interval, Node
from .corruptions import WINDOWS
from .floats import at

#: Where, as parts of a bounded interval, it is looked at.
_INSIDE = (0.137, 0.291, 0.453, 0.619, 0.787, 0.911)
Values = Mapping[str, float]


@lru_cache(maxsize=8)
def samples(question: Question) -> tuple[tuple[Values, ...], ...]:
    """Windows of points of the question's domain, with a value for every parameter."""
    x, fixed = question.variable, parameters(question)
    windows: list[tuple[Values, ...]] = []
    for window in (*_windows_inside(question, fixed), *WINDOWS):
        points = [{**fixed, x: point} for point in window if _is_in(question, fixed, point)]
        points = [values for values in points if at(question.body, values) is not None]
        if len(points) >= 2:
            windows.append(tuple(points))
    return tuple(windows)


def parameters(question: Question) -> Values:
    """A value for every parameter: positive ones, which fit most assumptions, and whole where it is whole."""
    return {p.name: 2.0 + place if p.integer else 1.37 + 0.71 * place for place, p in enumerate(question.given.parameters)}


def _intervals(question: Question) -> tuple[Interval, ...]:
    domain = question.domain
    return () if domain is None else intervals(domain)


def _windows_inside(question: Question, fixed: Values) -> Iterator[tuple[float, ...]]:
    for part in _intervals(question):
        low, high = at(part.lower, fixed), at(part.upper, fixed)
        if low is not None and high is not None:
            yield tuple(low + share * (high - low) for share in _INSIDE)


def _is_in(question: Question, fixed: Values, point: float) -> bool:
    parts = _intervals(question)
    for part in parts:
        low, high = at(part.lower, fixed), at(part.upper, fixed)
        if (low is None or low < point) and (high is None or point < high):
            return True
    return not parts


def same(question: Question, first: Node, second: Node) -> bool:
    """Whether two answers look the same: defined at the same points and equal there (an antiderivative: up to a constant)."""
    if first == second:
        return True
    if question.kind in ("definite", "limit"):
        fixed = parameters(question)
        return _near(at(first, fixed), at(second, fixed))
    compared = False
    for window in samples(question):
        pairs = [(at(first, values), at(second, values)) for values in window]
        if any((a is None) != (b is None) for a, b in pairs):
            return False
        gaps = [b - a for a, b in pairs if a is not None and b is not None]
        if not gaps:
            continue
        size = 1e-6 + max(abs(a) for a, _ in pairs if a is not None)
        spread = max(map(abs, gaps)) if question.kind == "derivative" else max(gaps) - min(gaps)
        if spread > 1e-8 * size:
            return False
        compared = compared or len(gaps) > 1
    return compared


def _near(a: float | None, b: float | None) -> bool:
    return a is not None and b is not None and abs(a - b) <= 1e-9 * (1e-6 + abs(a) + abs(b))


def looks_right(question: Question, answer: Node) -> bool:
    """Whether an antiderivative or a derivative fits its question at the points where both sides are defined."""
    x = question.variable
    try:
        if isinstance(question.node, Derivative):
            left, right = answer, derivative(question.body, x, None, question.node.order)
        else:
            left, right = derivative(answer, x), question.body
    except NotSupported:
        return False
    compared = False
    for window in samples(question):
        for values in window:
            a, b = at(left, values), at(right, values)
            if a is None or b is None:
                continue
            if abs(a - b) > 1e-7 * (1e-3 + abs(a) + abs(b)):
                return False
            compared = True
    return compared
