"""Worked solutions as a strict teacher wants them (common practice, no source): nothing skipped, nothing silly.

Each row is a question and lines, as they are typed, that its first worked solution has in this order.
"""

from __future__ import annotations

import pytest
from asking import solve

from everyline.notation import plain
from everyline.notation.message import fill

ROWS = [
    # Roots and fractions are written as powers before the power rule is used; 1/x and decimals stay.
    (r"\int 10x^2\sqrt[3]{x} \, dx", ["int 10x^(7/3) dx", "3x^(10/3) + C"]),
    (r"\int \left(\frac{6}{x} - \frac{6}{x^3}\right) dx", ["int (6/x - 6x^(-3)) dx"]),
    (r"\int \left(0.6t^2 - 1.5\sqrt{t}\right) dt", ["int (0.6t^2 - 1.5t^(1/2)) dt"]),
    # What is taken away stands in a bracket; the two values are seen before they are subtracted.
    (r"\int_{-1}^{3} (3 + 2x - x^2) \, dx", ["(3*3 + 3^2 - 3^3/3) - (3*(-1) + (-1)^2 - (-1)^3/3)", "9 - (-5/3)", "32/3"]),
    (r"\int_1^{e^2} \frac{2}{x} \, dx", ["2ln(e^2) - 2ln(1)", "4"]),
    # Limits stay where the integrand is only rewritten.
    (r"\int_1^2 \left(x - \frac{1}{x}\right)^2 dx", ["int_1^2 (x^2 - 2 + 1/x^2) dx"]),
    # The numbers of partial fractions come out small, what is added first.
    (r"\int \frac{10}{x(x + 5)} \, dx", ["int (2/x - 2/(x + 5)) dx", "2ln(|x|) - 2ln(|x + 5|) + C"]),
    # No fraction in a fraction after a substitution.
    (r"\int \frac{x - 1}{\sqrt{2x + 3}} \, dx", ["1/4*int (u - 5)/sqrt(u) du"]),
    # l'Hôpital's rule is seen at work.
    (r"\lim_{x \to 0^+} x\ln x", ["lim_(x -> 0^+) (ln(x)/(1/x))", "lim_(x -> 0^+) (1/x/(-1/x^2))", "lim_(x -> 0^+) (-x)", "0"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "wanted"), ROWS, ids=[row[0] for row in ROWS])
def test_the_lines_are_those_that_a_teacher_writes(text: str, wanted: list[str]) -> None:
    shown = [plain(line.shown) for line in solve(text).routes[0].lines]
    assert [line for line in shown if line in wanted] == wanted, shown


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (r"\int x^5\sqrt{x^3 + 2} \, dx", "The derivative of x^3 + 2 stands beside it, and x^3, which is left, is u - 2."),
        (r"\int x^2\sqrt{x^3 + 2} \, dx", "The derivative of x^3 + 2 stands beside it, up to a constant factor."),
        (r"\int \frac{3}{x^2 + 49} \, dx", "This is the arctangent form with a = 7."),
        (r"\int \frac{e^{3x} + 1}{e^x} \, dx", "Divide every term above by what stands below."),
    ],
)
def test_the_reason_says_what_is_done(text: str, said: str) -> None:
    assert said in [fill(line.reason, plain) for line in solve(text).routes[0].lines]


def test_the_numbers_of_partial_fractions_are_shown_in_finer_steps() -> None:
    split = next(line for line in solve(r"\int \frac{3x + 1}{x^2 - 2x - 15} \, dx").routes[0].lines if line.detail)
    assert [f"{plain(fine.left)} = {plain(fine.shown)}" for fine in split.detail if fine.left][-1] == "3x + 1 = (x - 5) + 2(x + 3)"


def test_a_linear_inside_is_not_named_where_it_would_be_stretched_elsewhere() -> None:
    assert not solve(r"\int (e^{3x} - e^{-x})^2 \, dx", methods=("linear-substitution",)).routes
    assert solve(r"\int e^{3x} \, dx", methods=("linear-substitution",)).routes


def test_only_what_stands_there_is_tried_in_vain() -> None:
    """No x⁴ for x³/(x - 2), nothing in two letters at once, nothing at all for a single power."""
    assert [plain(each.tried) for each in solve(r"\int \frac{x^3}{x - 2} \, dx").attempts] == ["x^3"]
    found = solve(r"\int \frac{x^4 + x^2 + 1}{x^2 + x + 1} \, dx").attempts
    assert found
    assert not any("u" in plain(each.left_over or each.tried) for each in found)
    assert solve(r"\int \frac{9}{x^4} \, dx").attempts == ()
