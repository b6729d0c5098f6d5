"""Worked limits, line by line: what stands under a limit is brought to a form whose limit is known, and each line says why.

Kinds of questions: APEX Calculus v3, sections 1.3, 1.4, 1.6 and 6.7; OpenStax Calculus 1, sections 2.3, 4.6 and 4.8. The values are the
books'; the lines are common practice, no source.
"""

from __future__ import annotations

import pytest
from asking import solve

from everyline.kernel import Checked
from everyline.notation import plain
from everyline.notation.message import fill

LINES: list[tuple[str, list[str]]] = [
    # standard limits: one line that brings their form, then the value
    (r"\lim_{x \to 0} \frac{\sin 3x}{x}", [
        "lim_(x -> 0) (3*(sin(3x)/(3x))) | Bring each factor to the form of a standard limit.",
        "3*1 | As 3x tends to 0, sin(3x)/(3x) tends to 1.",
        "3 | Work out the value.",
    ]),
    (r"\lim_{x \to 0} \frac{\tan 2x}{\sin 5x}", [
        "lim_(x -> 0) (2/5*(tan(2x)/(2x))*(5x/sin(5x))) | Bring each factor to the form of a standard limit.",
        "2/5*1*1 | Each factor has a known limit: tan(2x)/(2x) tends to 1.",
        "2/5 | Work out the value.",
    ]),
    (r"\lim_{x \to 0} \frac{e^{2x} - 1}{x}", [
        "lim_(x -> 0) (2*((e^(2x) - 1)/(2x))) | Bring each factor to the form of a standard limit.",
        "2*1 | As 2x tends to 0, (e^(2x) - 1)/(2x) tends to 1.",
        "2 | Work out the value.",
    ]),
    (r"\lim_{x \to 0} \frac{\ln(1 + 3x)}{x}", [
        "lim_(x -> 0) (3*(ln(1 + 3x)/(3x))) | Bring each factor to the form of a standard limit.",
        "3*1 | As 3x tends to 0, ln(1 + 3x)/(3x) tends to 1.",
        "3 | Work out the value.",
    ]),
    (r"\lim_{x \to 0} \frac{1 - \cos x}{\sin x}", [
        "lim_(x -> 0) (x*((1 - cos(x))/x^2)*(x/sin(x))) | Bring each factor to the form of a standard limit.",
        "0*(1/2)*1 | Each factor has a known limit: (1 - cos(x))/x^2 tends to 1/2.",
        "0 | Work out the value.",
    ]),
    (r"\lim_{x \to 0} \frac{1 - \cos x}{x^2}", ["1/2 | As x tends to 0, (1 - cos(x))/x^2 tends to 1/2."]),
    # an infinite limit: the sign of the denominator, from each side that is asked
    (r"\lim_{x \to 3^-} \frac{x + 1}{x - 3}", ["-infinity | The denominator x - 3 is negative there and tends to 0."]),
    (r"\lim_{x \to 2} \frac{1}{x - 2}", [
        "-infinity | The denominator x - 2 is negative there and tends to 0.",
        "infinity | The denominator x - 2 is positive there and tends to 0.",
        "does not exist | The limits from the left and from the right differ.",
    ]),
    (r"\lim_{x \to \infty} \arctan x", ["pi/2 | arctan(x) levels off at pi/2."]),
    (r"\lim_{x \to \infty} e^{-x}", ["0 | The exponent tends to -infinity."]),
]  # fmt: skip


@pytest.mark.parametrize(("question", "lines"), LINES, ids=[q for q, _ in LINES])
def test_a_limit_is_worked_out_line_by_line(question: str, lines: list[str]) -> None:
    route = solve(question).routes[0]
    assert [f"{plain(line.shown)} | {fill(line.reason, plain)}" for line in route.lines] == lines
    assert all(isinstance(line.checked, Checked) and line.checked.grade == "proved" for line in route.lines)


@pytest.mark.parametrize("question", [r"\frac{1 - \cos x}{x^2}", r"\frac{\tan x}{x}", r"\frac{1 - \cos 3x}{x\sin x}"])
def test_a_fold_leads_a_standard_limit_back_to_the_sine(question: str) -> None:
    (*_, line) = [line for line in solve(rf"\lim_{{x \to 0}} {question}").routes[0].lines if line.detail]
    (fine,) = line.detail
    assert isinstance(fine.checked, Checked)
    assert "sin(" in plain(fine.shown)
    assert "cos(" in plain(fine.shown)


def test_a_quotient_of_sines_that_has_no_limit_is_not_called_a_standard_limit() -> None:
    assert all("limit-standard" not in r.techniques for r in solve(r"\lim_{x \to 0^+} \frac{\sin x}{x^2}").routes)
