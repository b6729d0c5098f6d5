"""A derivative ends as a teacher ends it: one bar, identities used, common factors out, nothing left to cancel. Each is a proved line.

The questions are of the kinds in APEX Calculus v3, sections 2.4 and 2.5, and OpenStax Calculus 1, sections 3.3 and 3.6; which form an
answer ends in is common practice, no source.
"""

from __future__ import annotations

import pytest
from asking import solve

from everyline.derive.finishing import finished
from everyline.kernel import Checked, Equal
from everyline.notation import plain
from everyline.notation.message import fill

# (question, the lines after the last derivative is worked out)
ENDS: list[tuple[str, list[str]]] = [
    (r"\frac{\sin x}{1+\cos x}", [
        "(cos(x) + cos(x)^2 + sin(x)^2)/(1 + cos(x))^2 | Multiply out and collect like terms.",
        "(cos(x) + 1)/(1 + cos(x))^2 | Use sin(x)^2 + cos(x)^2 = 1.",
        "1/(cos(x) + 1) | Cancel cos(x) + 1.",
    ]),
    (r"\ln(\sec x+\tan x)", [
        "sec(x)*(tan(x) + sec(x))/(sec(x) + tan(x)) | Take out the common factor sec(x).",
        "sec(x) | Cancel tan(x) + sec(x).",
    ]),
    (r"\frac{e^x}{x^2}", [
        "x*e^x*(x - 2)/x^4 | Take out the common factor x*e^x.",
        "(x - 2)*e^x/x^3 | Cancel x.",
    ]),
    (r"(x+1)^3(x-2)^4", [
        "(x + 1)^2*(x - 2)^3*(3(x - 2) + 4(x + 1)) | Take out the common factor (x + 1)^2*(x - 2)^3.",
        "(x + 1)^2*(x - 2)^3*(7x - 2) | Multiply out and collect like terms.",
    ]),
    (r"\frac{1-\cos x}{\sin x}", [
        "(sin(x)^2 - cos(x) + cos(x)^2)/sin(x)^2 | Multiply out and collect like terms.",
        "(1 - cos(x))/sin(x)^2 | Use sin(x)^2 + cos(x)^2 = 1.",
        "(1 - cos(x))/((1 - cos(x))*(1 + cos(x))) | Use sin(x)^2 = (1 - cos(x))*(1 + cos(x)).",
        "1/(1 + cos(x)) | Cancel 1 - cos(x).",
    ]),
    (r"\frac{\ln x}{x^2}", ["x*(1 - 2ln(x))/x^4 | Take out the common factor x.", "(1 - 2ln(x))/x^3 | Cancel x."]),
    (r"x\sqrt{1-x^2}", ["(1 - 2x^2)/sqrt(1 - x^2) | Bring the terms over one denominator."]),
    (r"\frac{x}{\sqrt{x^2+1}}", ["1/(x^2 + 1)^(3/2) | Multiply above and below by sqrt(x^2 + 1)."]),
    (r"\arctan\frac{1}{x}", ["-1/(x^2 + 1) | Bring 1 + 1/x^2 over one denominator."]),
    (r"\ln(\cos x)", ["-tan(x) | Use sin(x)/cos(x) = tan(x)."]),
    (r"\tan x - x", ["tan(x)^2 | Use sec(x)^2 - 1 = tan(x)^2."]),
    (r"\frac{\sinh x}{1+\cosh x}", [
        "(cosh(x) + cosh(x)^2 - sinh(x)^2)/(1 + cosh(x))^2 | Multiply out and collect like terms.",
        "(cosh(x) + 1)/(1 + cosh(x))^2 | Use cosh(x)^2 - sinh(x)^2 = 1.",
        "1/(cosh(x) + 1) | Cancel cosh(x) + 1.",
    ]),
    (r"\frac{x^4+2x^3}{x+2}", [
        "(3x^4 + 12x^3 + 12x^2)/(x + 2)^2 | Multiply out and collect like terms.",
        "3x^2*(x + 2)^2/(x + 2)^2 | Factor above the bar.",
        "3x^2 | Cancel (x + 2)^2.",
    ]),
    (r"(2x^3-x^2+6x+1)^3", ["6*(2x^3 - x^2 + 6x + 1)^2*(3x^2 - x + 3) | Take out the common factor 2."]),
    (r"\sqrt{x^2+4x}", ["(x + 2)/sqrt(x^2 + 4x) | Cancel 2."]),
    (r"(2x-4)^3(x+1)^2", [
        "2*(2x - 4)^2*(x + 1)*(3(x + 1) + 2x - 4) | Take out the common factor 2*(2x - 4)^2*(x + 1).",
        "2*(2x - 4)^2*(x + 1)*(5x - 1) | Multiply out and collect like terms.",
    ]),
    (r"e^x\sin x", ["e^x*(sin(x) + cos(x)) | Take out the common factor e^x."]),
]  # fmt: skip


@pytest.mark.parametrize(("question", "lines"), ENDS, ids=[q for q, _ in ENDS])
def test_a_derivative_is_finished_line_by_line(question: str, lines: list[str]) -> None:
    route = solve(rf"\frac{{d}}{{dx}}\left({question}\right)").routes[0]
    last = route.lines[-len(lines) :]
    assert [f"{plain(line.shown)} | {fill(line.reason, plain)}" for line in last] == lines
    for before, line in zip(route.lines[-len(lines) - 1 :], last, strict=False):
        assert isinstance(line.checked, Checked)
        assert isinstance(line.checked.claim, Equal)
        assert (line.checked.claim.left, line.checked.claim.right) == (before.shown, line.shown)
        assert line.checked.grade == "proved"


@pytest.mark.parametrize(
    "question", ["6x^2 - 12x", r"\cos x", r"(3x^2-5)^7", r"\sin x\cos x", r"\frac{x}{x^2+1}", r"\sqrt{x}", r"x^3 + \frac{1}{x}"]
)
def test_what_is_finished_is_left_alone(question: str) -> None:
    answer = solve(rf"\frac{{d}}{{dx}}\left({question}\right)").routes[0].answer
    assert finished(answer, "x") == ()


# Kinds: APEX Calculus v3, section 2.5, exercises 15 and 24; OpenStax Calculus 1, the derivative of tanh as a quotient.
@pytest.mark.parametrize("question", [r"\ln(\cos x)", r"x^2\sin(5x)", r"\frac{e^x-e^{-x}}{e^x+e^{-x}}"])
def test_a_second_finishing_finds_nothing_more(question: str) -> None:
    answer = solve(rf"\frac{{d}}{{dx}}\left({question}\right)").routes[0].answer
    assert finished(answer, "x") == ()


def test_the_quotient_rule_is_said_as_a_sentence() -> None:
    first = solve(r"\frac{d}{dx} \frac{x^2}{e^x + 1}").routes[0].lines[0]
    assert "top differentiated times bottom, less top times bottom differentiated" in first.reason.text


def test_the_slope_of_a_constant_is_shown_for_that_constant() -> None:
    line = next(line for line in solve(r"\frac{d}{dx} (\cos x + 3)^4").routes[0].lines if line.detail)
    assert "d/dx (3) = 0" in [f"{plain(fine.left)} = {plain(fine.shown)}" for fine in line.detail if fine.left is not None]


def test_a_power_with_the_variable_above_is_written_as_an_exponential_first() -> None:
    first, second = solve(r"\frac{d}{dx} x^x").routes[0].lines[:2]
    assert plain(first.shown) == "d/dx (e^(x*ln(x)))"
    assert fill(second.reason, plain) == "Chain rule: the exponential stays, times the derivative of its exponent x*ln(x)."
