"""Antiderivatives as they are left, and methods that are shown once (common practice, no source).

Each row is a question and lines that its first worked solution has in this order, as they are typed.
"""

from __future__ import annotations

import pytest
from asking import solve

from everyline.notation import plain
from everyline.notation.message import fill

LEFT = [
    # Any antiderivative of dv will do: the one that lets the line in the logarithm cancel.
    (r"\int 8\ln|x - 2| \, dx", ["x - 2", "8(x - 2)*ln(|x - 2|) - 8*int 1 dx", "8(x - 2)*ln(|x - 2|) - 8x + C"]),
    (r"\int x\ln(2x - 1) \, dx", ["(4x^2 - 1)/8"]),
    # Bars stand where the sign is open, and nowhere else.
    (r"\int \frac{x + \sqrt{x} + 1}{x} \, dx", ["x + 2sqrt(x) + ln(x) + C"]),
    (r"\int \frac{\ln(x + 1)}{x^2} \, dx", ["-ln(x + 1)/x + ln(|x|) - ln(x + 1) + C"]),
    (r"\int \text{artanh}\, x \, dx", ["x*artanh(x) + 1/2*ln(|u|) + C", "x*artanh(x) + 1/2*ln(1 - x^2) + C"]),
    (r"\int \frac{1}{x} \, dx", ["ln(|x|) + C"]),
    # Roots without fractions, nor squares of lines, nor numbers to spare.
    (r"\int \arcsin\frac{x}{3} \, dx", ["1/sqrt(9 - x^2)", "x*arcsin(x/3) + sqrt(9 - x^2) + C"]),
    (r"\int \frac{x}{\sqrt{x^2 + 4x + 8}} \, dx", ["sqrt(x^2 + 4x + 8) - 2ln(|x + 2 + sqrt(x^2 + 4x + 8)|) + C"]),
    (r"\int \frac{1}{x^2 - x + 1} \, dx", ["2sqrt(3)/3*arctan(sqrt(3)/3*(2x - 1)) + C"]),
    # A constant is part of C; what belongs together is taken together.
    (r"\int \frac{e^{2x}}{1 + e^x} \, dx", ["int (u - 1)/u du", "1 + e^x - ln(1 + e^x) + C", "e^x - ln(1 + e^x) + C"]),
    (r"\int x^2\arctan x \, dx", ["1/3*x^3*arctan(x) - x^2/6 + 1/6*ln(1 + x^2) + C"]),
    (r"\int (x^2 + 1)e^{-x} \, dx", ["-(x^2 + 2x + 3)*e^(-x) + C"]),
    (r"\int \frac{x\,e^x}{(x + 1)^2} \, dx", ["e^x/(x + 1) + C"]),
    (r"\int \frac{x\cos x - \sin x}{x^2} \, dx", ["sin(x)/x + C"]),
    (r"\int x\cdot 2^x \, dx", ["x*2^x/ln(2) - 2^x/ln(2)^2 + C"]),
    # First choices.
    (r"\int \frac{e^{1/x}}{x^2} \, dx", ["-int e^u du", "-e^(1/x) + C"]),
    (r"\int \sec^4 x \, dx", ["int (1 + u^2) du", "tan(x) + 1/3*tan(x)^3 + C"]),
    (r"\int \frac{\ln x}{x\sqrt{1 + \ln x}} \, dx", ["int (u - 1)/sqrt(u) du"]),
    (r"\int \frac{x + 2}{\sqrt{4 - x^2}} \, dx", ["int (x/sqrt(4 - x^2) + 2/sqrt(4 - x^2)) dx"]),
    (r"\int x(x + 2)^2 \, dx", ["int (x^3 + 4x^2 + 4x) dx"]),
    (r"\int \sin^4 x \, dx", ["int ((1 - cos(2x))/2)^2 dx", "int (1/4 - 1/2*cos(2x) + 1/4*cos(2x)^2) dx"]),
    (r"\int \frac{1}{1 + \tan x} \, dx", ["int cos(x)/(cos(x) + sin(x)) dx", "x/2 + 1/2*ln(|cos(x) + sin(x)|) + C"]),
    (r"\int \sqrt{\frac{1 - x}{1 + x}} \, dx", ["int (1 - x)/sqrt(1 - x^2) dx", "sqrt(1 - x^2) + arcsin(x) + C"]),
    (r"\int \sinh 2x\cosh x \, dx", ["2/3*cosh(x)^3 + C"]),
    (r"\int \cot x\ln(\sin x) \, dx", ["1/2*ln(sin(x))^2 + C"]),
    (r"\int \frac{2^x}{1 + 4^x} \, dx", ["1/ln(2)*arctan(2^x) + C"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "wanted"), LEFT, ids=[row[0] for row in LEFT])
def test_an_antiderivative_is_left_as_a_teacher_leaves_it(text: str, wanted: list[str]) -> None:
    shown = [plain(line.shown) for line in solve(text).routes[0].lines]
    assert [line for line in shown if line in wanted] == wanted, shown


def test_it_is_said_why_there_are_no_bars() -> None:
    said = [fill(line.reason, plain) for line in solve(r"\int \left(\ln x + \frac{1}{x}\right) dx").routes[0].lines]
    assert any(reason.endswith("without bars: x can only be positive here.") for reason in said)


@pytest.mark.parametrize(
    ("text", "count"),
    [
        (r"\int \sin^2 x \, dx", 1),  # the identity by two names
        (r"\int \frac{\sin\sqrt{x}}{\sqrt{x}} \, dx", 1),  # the root as u, dx written in two ways
        (r"\int 6e^{2 - 3x} \, dx", 1),  # the antiderivative itself as u
        (r"\int \frac{e^x}{\sqrt{1 - e^{2x}}} \, dx", 1),  # u = e^(2x) and then its root, where u = e^x does
        (r"\int \sin 2x\sin 7x \, dx", 1),  # parts, and then the formula that would have done alone
        (r"\int (\sqrt{x} + 2)^2 \, dx", 3),  # no parts in a sum of powers
    ],
)  # fmt: skip
def test_methods_differ_in_more_than_their_wording(text: str, count: int) -> None:
    assert len(solve(text).routes) == count


WORKING = [r"\int \frac{1}{e^x + 4} \, dx", r"\int \frac{1}{1 + \sqrt{x}} \, dx", r"\int \frac{e^{2x}}{1 + e^x} \, dx"]


@pytest.mark.parametrize("text", WORKING)
def test_what_works_is_not_said_to_be_of_no_help(text: str) -> None:
    """u = eˣ + 4 leaves e⁻ˣ, which is 1/(u - 4)."""
    assert all(attempt.works for attempt in solve(text).attempts)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (r"\frac{d}{dx}\left(\ln\frac{x + 1}{x - 1}\right)", ["d/dx (ln(|x + 1|) - ln(|x - 1|))", "-2/((x + 1)*(x - 1))"]),
        (r"\frac{d}{dx}\left(\ln\sqrt{x^2 + 9}\right)", ["d/dx (1/2*ln(x^2 + 9))", "x/(x^2 + 9)"]),
        (r"\frac{d}{dx}\left(\arcsin\frac{x}{3}\right)", ["1/(3sqrt(1 - x^2/9))", "1/sqrt(9 - x^2)"]),
        (r"\frac{d}{dx}\left(\frac{x\,e^x}{x + 1}\right)", ["e^x*(x^2 + x + 1)/(x + 1)^2"]),
    ],
)
def test_a_derivative_is_written_as_a_teacher_writes_it(text: str, wanted: list[str]) -> None:
    shown = [plain(line.shown) for line in solve(text).routes[0].lines]
    assert [line for line in shown if line in wanted] == wanted, shown


def test_a_logarithm_that_parts_differentiate_is_no_inside_for_a_substitution() -> None:
    (attempt,) = solve(r"\int x\ln x \, dx").attempts
    assert plain(attempt.tried) == "ln(x)"
    assert not attempt.works


def test_a_letter_inside_a_function_ends_a_search_for_squares() -> None:
    """It went on for ever: ln cos x holds the cosine, and no square of it."""
    solve(r"\int \frac{\ln(\cos x)}{1 + \cos^2 x} \, dx", allowed=frozenset({"tangent-substitution", "table", "power"}))
