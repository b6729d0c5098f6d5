"""What a question looks like drawn: that curves are where the functions are, broken where they break, and shaded where asked."""

from __future__ import annotations

import math

import pytest

from everyline.book.curves import Drawing, drawing
from everyline.notation import Context, parse, parse_question
from everyline.notation.question import Given
from everyline.render.addresses import Addresses, Here
from everyline.render.plot import described, plot

HERE = Here("a/b.md", Addresses())
CONTEXT = Context(names=frozenset(("x",)), log="natural")


def drawn(question: str, key: str) -> Drawing:
    made = drawing(parse_question(question, Given(), CONTEXT), parse(key, CONTEXT, answer=True))
    assert made is not None
    return made


#: Questions, keys and what each function is, by Python's own library.
FUNCTIONS = [
    (r"\int \frac{1}{x} \, dx", r"\ln|x| + C", lambda x: 1 / x, lambda x: math.log(abs(x))),
    (r"\int x e^{-x} \, dx", "-(x + 1)e^{-x} + C", lambda x: x * math.exp(-x), lambda x: -(x + 1) * math.exp(-x)),
    (r"\int \frac{1}{\sqrt{4 - x^2}} \, dx", r"\arcsin\frac{x}{2} + C", lambda x: (4 - x * x) ** -0.5, lambda x: math.asin(x / 2)),
    (r"\frac{d}{dx} \tan x", r"\sec^2 x", math.tan, lambda x: math.cos(x) ** -2),
]  # fmt: skip


@pytest.mark.parametrize(("question", "key", "above", "below"), FUNCTIONS, ids=[row[0] for row in FUNCTIONS])
def test_the_points_lie_on_the_curves(question: str, key: str, above, below) -> None:
    made = drawn(question, key)
    upper, lower = made.panels
    assert all(y == pytest.approx(above(x)) for run in upper.curves[0] for x, y in run)
    middle = lower.curves[len(lower.curves) // 2]
    assert all(y == pytest.approx(below(x)) for run in middle for x, y in run)


def test_antiderivatives_are_the_same_curve_moved_up_and_down() -> None:
    *_, lower = drawn(r"\int 6x^2 \, dx", "2x^3 + C").panels
    first, second, third = lower.curves
    steps = {round(b[1] - a[1], 9) for a, b in zip(first[0], second[0], strict=True)}
    assert len(steps) == 1
    assert steps == {round(b[1] - a[1], 9) for a, b in zip(second[0], third[0], strict=True)}


@pytest.mark.parametrize(
    ("question", "key", "gaps"),
    [
        (r"\int \frac{1}{x} \, dx", r"\ln|x| + C", [0.0]),
        (r"\int \frac{1}{x^2 - 9} \, dx", r"\frac16\ln\left|\frac{x-3}{x+3}\right| + C", [-3.0, 3.0]),
        (r"\int x^2 \, dx", r"\frac{x^3}{3} + C", []),
    ],
)
def test_a_curve_is_broken_where_the_function_has_no_value(question: str, key: str, gaps: list[float]) -> None:
    made = drawn(question, key)
    assert list(made.gaps) == pytest.approx(gaps)
    assert all(not run[0][0] < gap < run[-1][0] for run in made.panels[0].curves[0] for gap in gaps)


@pytest.mark.parametrize(
    ("question", "key", "start", "stop"),
    [
        (r"\int_1^4 \frac{3}{\sqrt{x}} \, dx", "6", 1, 4),
        (r"\int_0^\pi \sin 2x \, dx", "0", 0, math.pi),
        (r"\int_3^1 x \, dx", "-4", 1, 3),
    ],
)
def test_the_area_that_is_asked_for_is_shaded_and_no_more(question: str, key: str, start: float, stop: float) -> None:
    made = drawn(question, key)
    xs = [x for run in made.panels[0].area for x, _ in run]
    assert min(xs) == pytest.approx(start, abs=0.05)
    assert max(xs) == pytest.approx(stop, abs=0.05)
    assert made.left < start < stop < made.right


def test_a_pole_does_not_flatten_the_rest() -> None:
    """1/x near 0 goes beyond every height: the panel shows the part that can be seen (measured trap; shared facts, `frontend.md`)."""
    upper = drawn(r"\int \frac{1}{x} \, dx", r"\ln|x| + C").panels[0]
    assert -6 < upper.low < -1 < 1 < upper.high < 6


def test_a_bounded_area_is_seen_whole() -> None:
    upper = drawn(r"\int_0^\infty e^{-3x} \, dx", r"\frac13").panels[0]
    assert upper.high > 1


@pytest.mark.parametrize(("question", "key"), [(row[0], row[1]) for row in FUNCTIONS])
def test_the_picture_says_what_it_shows_and_holds_no_number_that_is_none(question: str, key: str) -> None:
    asked = parse_question(question, Given(), CONTEXT)
    made = drawn(question, key)
    picture = plot(asked, made, HERE)
    assert "nan" not in picture.replace("tangent", "")
    assert " inf" not in picture
    assert described(asked, made, HERE).startswith("Graph of ")
    assert 'role="img"' in picture
    assert len(picture) < 8000
