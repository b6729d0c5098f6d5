"""Drawings as SVG of our own: colours from the page's variables, so that they suit the dark scheme and paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import floor, isfinite, log10

from ..book.curves import Drawing, Panel, Point, Run
from ..notation import plain, speech
from ..notation.message import sentence
from ..notation.question import Question
from ..notation.tree import Node
from .addresses import Here
from .markup import element, escape

WIDTH, HEIGHT, GAP, EDGE = 340.0, 170.0, 14.0, 6.0
#: Points nearer than this to the straight line between their neighbours are left out (in the drawing's own units).
FLAT = 0.12
#: What the fold with the drawing is called.
SEEN = {
    "indefinite": sentence("The integrand and three antiderivatives"),
    "definite": sentence("The area that is asked for"),
    "derivative": sentence("The function and its derivative"),
    "limit": sentence("The function near the point"),
}
_CAPTIONS = {
    "definite": sentence("The integrand, with the area that is asked for shaded: what lies below the axis counts as negative."),
    "limit": sentence("The function near the point."),
}
_BELOW = {
    "antiderivatives": sentence("Below it, three of its antiderivatives."),
    "derivative": sentence("Below it, its derivative."),
}


#: The same at more length, for those who do not see it.
_SECOND = {
    "antiderivatives": sentence(
        "Below it three antiderivatives, the same curve moved up and down; each rises where the integrand is positive."
    ),
    "derivative": sentence("Below it the derivative: positive where the function rises, negative where it falls."),
}
#: Where a curve lies, and where the shaded part does: on both sides of the axis, below it, above it.
_CURVE = (
    sentence("The curve lies above and below the axis."),
    sentence("The curve lies below the axis."),
    sentence("The curve lies above the axis."),
)
_SHADED = (
    sentence("The shaded part lies above and below the axis."),
    sentence("The shaded part lies below the axis."),
    sentence("The shaded part lies above the axis."),
)


def plot(question: Question, drawing: Drawing, here: Here) -> str:
    """The drawing with a caption for everybody; the description of it is for those who do not see it."""
    total = len(drawing.panels) * HEIGHT + (len(drawing.panels) - 1) * GAP
    made = "".join(_panel(panel, drawing, number * (HEIGHT + GAP), number, here) for number, panel in enumerate(drawing.panels))
    said = described(question, drawing, here)
    svg = element("svg", made, class_="ev-plot", viewBox=f"0 0 {_short(WIDTH)} {_short(total)}", role="img", aria_label=said)
    return element("figure", svg, element("figcaption", escape(caption(question, drawing, here)), class_="ev-quiet"), class_="ev-figure")


def caption(question: Question, drawing: Drawing, here: Here) -> str:
    """What is drawn, in a sentence or two."""
    if question.kind in _CAPTIONS:
        return here.tell(_CAPTIONS[question.kind])
    first = here.tell("The integrand." if question.kind == "indefinite" else "The function.")
    return f"{first} {here.tell(_BELOW[drawing.second])}" if drawing.second in _BELOW else first


def described(question: Question, drawing: Drawing, here: Here) -> str:
    """What the drawing shows, for people who do not see it."""
    x = drawing.variable
    left, right = _number(drawing.left, here), _number(drawing.right, here)
    function = speech(question.body, here.said)
    parts = [here.tell("Graph of {function} for {x} from {left} to {right}.", function=function, x=x, left=left, right=right)]
    parts.append(_sides(drawing.panels[0], here))
    if drawing.gaps:
        places = ", ".join(_number(gap, here) for gap in drawing.gaps)
        parts.append(here.tell("It is broken at {x} = {places}.", x=x, places=places))
    if drawing.panels[0].area:
        ends = [speech(node, here.said) for _, node in drawing.marks]
        parts.append(here.tell("Shaded: between {x} = {left} and {x} = {right}.", x=x, left=ends[0], right=ends[-1]))
    if drawing.second in _SECOND:
        parts.append(here.tell(_SECOND[drawing.second]))
    return " ".join(parts)


def _sides(panel: Panel, here: Here) -> str:
    values = [y for run in panel.area or panel.curves[0] for _, y in run]
    above, below = any(y > 1e-9 for y in values), any(y < -1e-9 for y in values)
    return here.tell((_SHADED if panel.area else _CURVE)[0 if above and below else 1 if below else 2])


def _panel(panel: Panel, drawing: Drawing, top: float, number: int, here: Here) -> str:
    across = (WIDTH - 2 * EDGE) / (drawing.right - drawing.left)
    up = (HEIGHT - 2 * EDGE) / (panel.high - panel.low)

    def place(point: Point) -> Point:
        return EDGE + (point[0] - drawing.left) * across, top + EDGE + (panel.high - point[1]) * up

    def line(start: Point, stop: Point, kind: str) -> str:
        (x1, y1), (x2, y2) = place(start), place(stop)
        return element("path", d=f"M{_short(x1)} {_short(y1)}L{_short(x2)} {_short(y2)}", class_=kind)

    parts = [element("rect", x=0, y=_short(top), width=_short(WIDTH), height=_short(HEIGHT), class_="ev-plot__sheet")]
    for run in panel.area:
        edge = [(x, min(max(y, panel.low), panel.high)) for x, y in run]
        bounds = [(run[0][0], 0.0), *edge, (run[-1][0], 0.0)]
        parts.append(element("path", d=_path([place(p) for p in bounds]) + "Z", class_="ev-plot__area"))
    if panel.low < 0 < panel.high:
        parts.append(line((drawing.left, 0.0), (drawing.right, 0.0), "ev-plot__axis"))
    if drawing.left < 0 < drawing.right:
        parts.append(line((0.0, panel.low), (0.0, panel.high), "ev-plot__axis"))
    for order, curve in enumerate(panel.curves):
        outer = len(panel.curves) > 1 and order != len(panel.curves) // 2
        d = "".join(_path([place(p) for p in part]) for run in curve for part in _cut(run, panel))
        kind = "ev-plot__curve" + (" ev-plot__curve--other" if outer else "") + (" ev-plot__curve--second" if number else "")
        parts.append(element("path", d=d, class_=kind))
    parts += _labels(panel, drawing, place, here)
    return "".join(parts)


def _labels(panel: Panel, drawing: Drawing, place: object, here: Here) -> Iterator[str]:
    """Numbers along the two axes; where the question names places, those instead of round numbers."""
    assert callable(place)
    level = min(max(0.0, panel.low), panel.high)
    named = [(x, here.number(_named(node))) for x, node in drawing.marks if isfinite(x)]
    across = named or [(x, _number(x, here)) for x in _round(drawing.left, drawing.right, 5) if abs(x) > 1e-9]
    for value, text in across:
        x, y = place((value, level))
        under = y + 15 < place((0.0, panel.low))[1] + EDGE
        yield element("path", d=f"M{_short(x)} {_short(y - 3)}v6", class_="ev-plot__axis")
        yield element(
            "text", escape(text), x=_short(x), y=_short(y + 15 if under else y - 6), class_="ev-plot__number ev-plot__number--middle"
        )
    side = min(max(0.0, drawing.left), drawing.right)
    for value in _round(panel.low, panel.high, 3):
        if abs(value) > 1e-9:
            x, y = place((side, value))
            yield element("path", d=f"M{_short(x - 3)} {_short(y)}h6", class_="ev-plot__axis")
            right = x < WIDTH - 40
            yield element(
                "text", escape(_number(value, here)), x=_short(x + 6 if right else x - 6), y=_short(y + 4),
                class_="ev-plot__number" + ("" if right else " ev-plot__number--end"),
            )  # fmt: skip


def _named(node: Node) -> str:
    return plain(node).replace("pi", "π").replace("-", "−")


def _number(value: float, here: Here) -> str:
    return here.number(f"{float(f'{value:.3g}'):,.10g}").replace("-", "−")


def _round(low: float, high: float, most: int) -> list[float]:
    """At most so many round numbers in an interval: steps of 1, 2 or 5 times a power of ten."""
    for power in range(floor(log10((high - low) / most)), 12):
        for digit in (1, 2, 5):
            step = digit * 10.0**power
            first, last = floor(low / step) + 1, floor(high / step)
            if last - first < most:
                return [k * step for k in range(first, last + 1)]
    return []


def _cut(run: Run, panel: Panel) -> list[list[Point]]:
    """A run without what lies above or below the panel, cut at its edges."""
    parts: list[list[Point]] = [[]]
    for before, here in pairwise((run[0], *run)):
        edge = _crossing(before, here, panel)
        if panel.low <= here[1] <= panel.high:
            parts[-1] += [edge, here] if edge and not parts[-1] else [here]
        elif parts[-1]:
            parts[-1] += [edge] if edge else []
            parts.append([])
    return [part for part in parts if len(part) > 1]


def _crossing(before: Point, here: Point, panel: Panel) -> Point | None:
    """Where a segment enters or leaves the panel."""
    for level in (panel.low, panel.high):
        if (before[1] - level) * (here[1] - level) < 0:
            share = (level - before[1]) / (here[1] - before[1])
            return before[0] + share * (here[0] - before[0]), level
    return None


def _path(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{_short(x)} {_short(y)}" for x, y in _thinned(points))


def _thinned(points: Sequence[Point]) -> list[Point]:
    """A line through fewer points that stays within `FLAT` of them (Ramer 1972; Douglas and Peucker 1973)."""
    if len(points) < 3:
        return list(points)
    off, place = max((_bend(points[0], here, points[-1]), place) for place, here in enumerate(points[1:-1], 1))
    if off <= FLAT:
        return [points[0], points[-1]]
    return [*_thinned(points[: place + 1])[:-1], *_thinned(points[place:])]


def _bend(a: Point, b: Point, c: Point) -> float:
    """How far b is from the straight line between a and c."""
    length = ((c[0] - a[0]) ** 2 + (c[1] - a[1]) ** 2) ** 0.5
    cross = abs((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0]))
    return cross / length if length else 0.0


def _short(value: float) -> str:
    return f"{value:.1f}".rstrip("0").rstrip(".")
