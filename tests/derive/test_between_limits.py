"""Integrals between limits as a teacher does them: split where it must be, what symmetry takes away, numbers written to the end.

Questions invented, of the kinds of APEX Calculus v3, sections 5.2, 6.1 and 6.8, and of OpenStax Calculus 2, sections 1.5 and 3.7;
values by hand; the choice of method and the wording are common practice, no source.
"""

from __future__ import annotations

import pytest
from asking import solve

from everyline.kernel import Checked
from everyline.notation import plain
from everyline.notation.message import fill
from everyline.notation.tree import Diverges, Integral, Limit

IMPROPER_INSIDE = [
    (r"\int_0^3 \frac{1}{(x-1)^{2/3}} \, dx", "3 + 3sqrt[3](2)", ("3", "3sqrt[3](2)")),
    (r"\int_{-1}^{8} \frac{1}{\sqrt[3]{x}} \, dx", "9/2", ("-3/2", "6")),
    (r"\int_{-1}^1 \ln|x| \, dx", "-2", ("-1", "-1")),
]


@pytest.mark.parametrize(("question", "value", "pieces"), IMPROPER_INSIDE)
def test_what_is_improper_between_its_limits_is_split_there_and_each_piece_is_a_limit(
    question: str, value: str, pieces: tuple[str, str]
) -> None:  # fmt: skip
    found = solve(question)
    for route in found.routes:
        first, *_ = route.lines
        assert sum(isinstance(part, Integral) for part in getattr(first.shown, "terms", ())) == len(pieces)
        assert sum(isinstance(line.shown, Limit) and line.left is not None for line in route.lines) == len(pieces)
        assert [plain(line.shown) for line in route.lines if plain(line.shown) in pieces]
        assert plain(route.answer) == value
        assert all(isinstance(line.checked, Checked) and line.checked.grade == "proved" for line in route.lines if line.kind != "let")


@pytest.mark.parametrize("question", [r"\int_{-1}^1 \frac{1}{x^2} \, dx", r"\int_0^4 \frac{1}{x-2} \, dx", r"\int_0^5 \frac{x}{x-2} \, dx"])
def test_what_has_no_value_on_one_side_of_a_place_between_the_limits_diverges(question: str) -> None:
    found = solve(question)
    assert found.routes[0].method != "comparison"
    assert all(isinstance(route.answer, Diverges) for route in found.routes)


def test_an_end_that_cannot_be_put_in_is_named_in_formulas() -> None:
    reasons = [fill(line.reason, lambda node: f"[{plain(node)}]") for line in solve(r"\int_0^4 \frac{1}{\sqrt{x}} \, dx").routes[0].lines]
    assert "[x] = [0] cannot be put in: stop short of it and take the limit." in reasons


def test_bars_that_change_their_sign_together_are_not_said_to_keep_it() -> None:
    (reason,) = (
        fill(line.reason, plain) for line in solve(r"\int_0^{\pi} |\cos x||\sin 2x| \, dx").routes[0].lines if "bars" in line.reason.text
    )
    assert reason == "Between the limits the insides keep their signs or change them together: write it without bars."


FIRST = [
    # bars, also those that a root hides and those inside others: split where the sign changes
    (r"\int_0^3 |x^2 - 3x + 2| \, dx", "split-interval", "11/6"),
    (r"\int_0^{\pi} |\sin x - \cos x| \, dx", "split-interval", "2sqrt(2)"),
    (r"\int_0^{\pi} |2\sin x - 1| \, dx", "split-interval", "4sqrt(3) - pi/3 - 4"),
    (r"\int_{-2}^{3} ||x| - 1| \, dx", "split-interval", "7/2"),
    (r"\int_0^{2\pi} \sqrt{1 - \cos 2x} \, dx", "split-interval", "4sqrt(2)"),
    (r"\int_0^{2\pi} |\cos x|\sqrt{1 - \cos 2x} \, dx", "split-interval", "2sqrt(2)"),
    (r"\int_{-2}^{4} \sqrt{x^2 - 2x + 1} \, dx", "split-interval", "9"),
    (r"\int_{-\infty}^{\infty} e^{-|x|} \, dx", "split-interval", "2"),
    (r"\int_{1/e}^{e} |\ln x| \, dx", "split-interval", "2 - 2/e"),
    # symmetry first where it takes something away
    (r"\int_{-3}^{3} (x^5 + x^2 - x + 2) \, dx", "symmetry", "30"),
    (r"\int_{-\pi/4}^{\pi/4} (x^4 \tan x + \cos x) \, dx", "symmetry", "sqrt(2)"),
    (r"\int_{-1}^1 \frac{x^2 + \sin x}{1 + x^2} \, dx", "symmetry", "2 - pi/2"),
    (r"\int_{-1}^1 \ln(x + \sqrt{x^2+1}) \, dx", "symmetry", "0"),
    (r"\int_{-2}^{2} |x^3| \, dx", "symmetry", "8"),
    # and not where both halves are as easy as the whole
    (r"\int_{-1}^{1} x^2 \, dx", "power", "2/3"),
    # reflected, the sum is simpler
    (r"\int_{-1}^{1} \frac{x^2}{1 + e^x} \, dx", "reflection", "1/3"),
    (r"\int_0^{\pi} \frac{x \sin x}{1 + \cos^2 x} \, dx", "reflection", "pi^2/4"),
    (r"\int_0^{\pi/4} \ln(1 + \tan x) \, dx", "reflection", "pi/8*ln(2)"),
    # the antiderivative before a comparison, and a comparison where there is none
    (r"\int_0^{\pi/2} \tan x \, dx", "table", "diverges"),
    (r"\int_2^\infty \frac{x}{x^2+\cos x} \, dx", "comparison", "diverges"),
    (r"\int_2^\infty \frac{1}{\ln x} \, dx", "comparison", "diverges"),
    # the tangent does not jump here: new limits instead of a longer antiderivative
    (r"\int_0^{\pi/2} \frac{1}{2 + \cos x} \, dx", "tangent-half-angle", "sqrt(3)*pi/9"),
]


@pytest.mark.parametrize(("question", "method", "value"), FIRST, ids=[q for q, _, _ in FIRST])
def test_the_first_method_is_the_one_a_teacher_would_choose_and_the_value_is_written_to_the_end(
    question: str, method: str, value: str
) -> None:  # fmt: skip
    route = solve(question).routes[0]
    assert route.method == method
    assert plain(route.answer) == value
    assert all(isinstance(line.checked, Checked) for line in route.lines if line.kind != "let")


VALUES = [
    (r"\int_0^1 \sqrt{1 + \sqrt{x}} \, dx", "8sqrt(2)/15 + 8/15"),
    (r"\int_{-1}^1 x^2 e^{-x^3} \, dx", "(e - 1/e)/3"),
    (r"\int_0^{\ln 2} \cosh x \, dx", "3/4"),
    (r"\int_{-1}^{1} e^{|x|} \, dx", "2*e - 2"),
    (r"\int_1^2 \frac{3}{x(x+1)} \, dx", "6ln(2) - 3ln(3)"),
]


@pytest.mark.parametrize(("question", "value"), VALUES)
def test_a_value_has_no_fraction_of_fractions_and_no_leading_minus(question: str, value: str) -> None:
    assert plain(solve(question).routes[0].answer) == value


def test_one_substitution_is_one_method_however_it_is_written_down() -> None:
    methods = [route.method for route in solve(r"\int_0^1 \frac{\ln x}{\sqrt{x}} \, dx").routes]
    assert methods == ["parts", "substitution"]
    assert len(solve(r"\int_0^{\pi} \sin^2 x \, dx").routes) == 1


def test_an_antiderivative_that_serves_twice_is_found_once() -> None:
    lines = solve(r"\int_0^2 |2x - 1| e^x \, dx").routes[0].lines
    assert sum(line.kind == "let" for line in lines) == 2  # u and dv of one integration by parts


def test_a_simple_function_is_not_compared_with_a_simpler_one() -> None:
    assert [route.method for route in solve(r"\int_0^1 \frac{1}{x^2} \, dx").routes] == ["power"]


def test_an_antiderivative_that_swings_without_end_is_named_and_nothing_is_claimed() -> None:
    found = solve(r"\int_0^\infty x \sin x \, dx")
    assert not found.routes
    assert found.missing is not None
    assert "-x*cos(x) + sin(x) swings" in fill(found.missing, plain)


def test_of_a_piece_only_the_sign_in_front_changes() -> None:
    (route,) = solve(r"\int_{-\infty}^{-2} \frac{1}{x \sqrt{x^2+2x+1}} \, dx").routes
    assert plain(route.lines[1].shown) == "-int_(-infinity)^(-2) 1/(x*(x + 1)) dx"
    assert plain(route.answer) == "-ln(2)"
