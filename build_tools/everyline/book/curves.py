"""What a problem looks like drawn: its function, several of its antiderivatives or the area under it, as points of curves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, isfinite

from ..notation.build import without_constant
from ..notation.question import Question
from ..notation.tree import Diverges, DoesNotExist, Infinity, Integral, Limit, Negative, Node
from . import sampling

#: How far from zero, and from a finite end, a curve is drawn where nothing says otherwise.
REACH = 3.0
POINTS = 96
#: By how much of the height the antiderivatives that are drawn lie apart.
APART = 0.32
Point = tuple[float, float]
Run = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Panel:
    """Curves over one pair of axes. `curves` are lists of unbroken runs of points; `area` are the runs that bound a shaded area."""

    low: float
    high: float
    curves: tuple[tuple[Run, ...], ...]
    area: tuple[Run, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """One or two panels over the same part of the axis of the variable.

    `marks` are places on that axis that the question names (limits, a point), with their trees. `second` says what the lower
    panel holds: `antiderivatives`, `derivative` or nothing. `gaps` are places in view where the function has no value.
    """

    variable: str
    left: float
    right: float
    panels: tuple[Panel, ...]
    second: str = ""
    marks: tuple[tuple[float, Node], ...] = ()
    gaps: tuple[float, ...] = ()


def drawing(question: Question, key: Node) -> Drawing | None:
    """The drawing of a question whose key is proved; None where there is nothing to see (no interval, or no finite values)."""
    fixed = next(iter(sampling.choices(question.given, 1)), None)
    if fixed is None:
        return None
    answer = without_constant(key)
    if isinstance(answer, Diverges | DoesNotExist) and question.kind != "definite":
        return None
    lower_tree = answer if question.kind in ("indefinite", "derivative") else question.body
    pieces = sorted(sampling.components(question, lower_tree, fixed))
    marks = tuple(_marks(question, fixed))
    view = _view(pieces, [x for x, _ in marks])
    if view is None:
        return None
    left, right = view
    inside = [(max(a, left), min(b, right)) for a, b in pieces if a < right and b > left]

    def curve(node: Node) -> tuple[Run, ...]:
        named = [x for x, _ in marks]
        made = (_runs(node, question.variable, piece, fixed, right - left, named) for piece in inside)
        return tuple(run for runs in made for run in runs if len(run) > 1)

    first = curve(question.body)
    if not first:
        return None
    area = tuple(_between(first, marks[0][0], marks[-1][0])) if question.kind == "definite" else ()
    top = Panel(*_heights(area or first, zero=True, whole=bool(area) and not any(map(_grows, area))), (first,), area)
    gaps = tuple(b for (_, b), (a, _) in pairwise(inside) if a - b < (right - left) / POINTS)
    second = curve(answer) if question.kind in ("indefinite", "derivative") else ()
    if not second:
        return Drawing(question.variable, left, right, (top,), "", marks, gaps)
    if question.kind == "derivative":
        bottom = Panel(*_heights(second, zero=True), (second,))
        return Drawing(question.variable, left, right, (top, bottom), "derivative", marks, gaps)
    return Drawing(question.variable, left, right, (top, _family(second)), "antiderivatives", marks, gaps)


def _family(runs: tuple[Run, ...]) -> Panel:
    """An antiderivative and the same curve moved up and down: each has another constant."""
    low, high = _heights(runs, zero=False)
    step = (high - low) * APART
    moved = tuple(tuple(tuple((x, y + k * step) for x, y in run) for run in runs) for k in (-1, 0, 1))
    return Panel(low - step, high + step, moved)


def _marks(question: Question, fixed: sampling.Parameters) -> Iterator[tuple[float, Node]]:
    """The limits of an integral (±inf included), or the point of a limit, as numbers with their trees, from left to right."""
    named: tuple[Node | None, ...] = ()
    match question.node:
        case Integral(_, _, lower, upper):
            named = (lower, upper)
        case Limit(_, _, point, _):
            named = (point,)
    found = [(_number(node, fixed), node) for node in named if node is not None]
    yield from sorted(((x, node) for x, node in found if x is not None), key=lambda mark: mark[0])


def _number(node: Node, fixed: sampling.Parameters) -> float | None:
    if isinstance(node, Infinity):
        return inf
    if node == Negative(Infinity()):
        return -inf
    found = sampling.constant(node, fixed)
    return found.values[0] if found else None


def _view(pieces: Sequence[tuple[float, float]], marks: Sequence[float]) -> tuple[float, float] | None:
    """The part of the axis that is drawn: round the marks, else round zero or the nearest interval."""
    finite = [x for x in marks if isfinite(x)]
    if finite:
        low, high = min(finite), max(finite)
        low, high = (low if marks[0] > -inf else high - 1.5 * REACH), (high if marks[-1] < inf else low + 1.5 * REACH)
        margin = 0.18 * (high - low) if high > low else REACH
        return low - margin, high + margin
    if not pieces:
        return None
    low, high = min(pieces, key=lambda piece: max(0.0, piece[0], -piece[1]))
    centre = min(max(0.0, low), high)
    around = [(a, b) for a, b in pieces if b > centre - 1.5 * REACH and a < centre + 1.5 * REACH]
    ends = [x for piece in around for x in piece if isfinite(x)]
    left = min(a for a, _ in around)
    right = max(b for _, b in around)
    start, stop = min(ends, default=centre), max(ends, default=centre)
    left = left if isfinite(left) and left > centre - 2 * REACH else min(centre, start) - REACH
    right = right if isfinite(right) and right < centre + 2 * REACH else max(centre, stop) + REACH
    margin = 0.04 * (right - left)
    return max(left - margin, centre - 2.5 * REACH), min(right + margin, centre + 2.5 * REACH)


def _runs(
    node: Node, variable: str, piece: tuple[float, float], fixed: sampling.Parameters, width: float, named: Iterable[float]
) -> Iterator[Run]:
    """The unbroken runs of a curve over an interval, its points closer together near the ends, where poles are."""
    a, b = piece
    count = max(12, round(POINTS * (b - a) / width))
    inset = (0.0005, 0.002, 0.005)
    shares = sorted({*inset, *(1 - s for s in inset), *((k + 0.5) / count for k in range(count))})
    at = sorted({*(a + (b - a) * share for share in shares), *(x for x in named if a < x < b)})
    run: list[Point] = []
    for x, y in zip(at, sampling.graph(node, variable, at, fixed), strict=True):
        if y is None:
            yield tuple(run)
            run = []
        else:
            run.append((x, y))
    yield tuple(run)


def _between(runs: Iterable[Run], start: float, stop: float) -> Iterator[Run]:
    """The parts of runs between two places of the axis."""
    for run in runs:
        part = tuple(point for point in run if start <= point[0] <= stop)
        if len(part) > 5:
            yield part


def _heights(runs: Sequence[Run], *, zero: bool, whole: bool = False) -> tuple[float, float]:
    """The part of the vertical axis that is drawn: the far ends of poles would flatten all the rest, unless `whole`."""
    values = sorted(y for run in runs for _, y in run) if whole else sorted(_even(runs))
    low, high = values[0], values[-1]
    inner_low, inner_high = values[len(values) // 6], values[-1 - len(values) // 6]
    reach = 0.9 * max(inner_high - inner_low, abs(inner_high), abs(inner_low), 1e-9)
    if not whole:
        low, high = max(low, inner_low - reach), min(high, inner_high + reach)
    if zero:
        low, high = min(low, 0.0), max(high, 0.0)
    margin = 0.08 * (high - low) or 1.0
    return low - margin, high + margin


def _grows(run: Run) -> bool:
    """Whether a curve seems to grow without bound at an end of its interval: its last point, ten times nearer, is far higher."""
    near = 0.02 * (run[-1][0] - run[0][0])
    ends = ((run[0], run[2]), (run[-1], run[-3]))
    return any(abs(end[0] - before[0]) < near and abs(end[1]) > 1.4 * abs(before[1]) + 1e-9 for end, before in ends)


def _even(runs: Sequence[Run]) -> Iterator[float]:
    """The heights of points that stand evenly along the axis: those beside the ends of an interval would count too much."""
    step = (runs[-1][-1][0] - runs[0][0][0]) / (1.2 * POINTS)
    for run in runs:
        last = -inf
        for x, y in run[3:-3] or run:
            if x - last >= step:
                last = x
                yield y
