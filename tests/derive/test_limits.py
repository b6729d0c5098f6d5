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
    (r"\lim_{x \to 3^-} \frac{x + 1}{x - 3}", ["-infinity | Above it tends to 4; below, x - 3 is negative and tends to 0."]),
    (r"\lim_{x \to 2} \frac{1}{x - 2}", [
        "-infinity | The denominator x - 2 is negative there and tends to 0.",
        "infinity | The denominator x - 2 is positive there and tends to 0.",
        "does not exist | The limits from the left and from the right differ.",
    ]),
    (r"\lim_{x \to 0^+} (\frac{1}{x} - \frac{1}{x^2})", [
        "lim_(x -> 0^+) ((x - 1)/x^2) | Bring the terms over one denominator.",
        "-infinity | Above it tends to -1; below, x^2 is positive and tends to 0.",
    ]),
    (r"\lim_{x \to 0} \frac{|x|}{x}", [
        "-1 | On this side |x| = -x.",
        "1 | On this side |x| = x.",
        "does not exist | The limits from the left and from the right differ.",
    ]),
    # what cancels is seen before it is cancelled
    (r"\lim_{x \to 2} \frac{x^2 + x - 6}{x^2 - 7x + 10}", [
        "lim_(x -> 2) ((x + 3)*(x - 2)/((x - 2)*(x - 5))) | Factor above and below.",
        "lim_(x -> 2) ((x + 3)/(x - 5)) | Cancel x - 2.",
        "-5/3 | The function is continuous there: put the point in.",
    ]),
    (r"\lim_{x \to 5} \frac{\sqrt{x - 1} - 2}{x - 5}", [
        "lim_(x -> 5) ((x - 5)/((x - 5)*(sqrt(x - 1) + 2))) | Multiply above and below by the conjugate sqrt(x - 1) + 2.",
        "lim_(x -> 5) (1/(sqrt(x - 1) + 2)) | Cancel x - 5.",
        "1/4 | The function is continuous there: put the point in.",
    ]),
    (r"\lim_{x \to 3} (\frac{1}{x - 3} - \frac{4}{x^2 - 2x - 3})", [
        "lim_(x -> 3) (1/(x - 3) - 4/((x + 1)*(x - 3))) | Factor the denominators.",
        "lim_(x -> 3) ((x - 3)/((x + 1)*(x - 3))) | Bring the terms over one denominator.",
        "lim_(x -> 3) (1/(x + 1)) | Cancel x - 3.",
        "1/4 | The function is continuous there: put the point in.",
    ]),
    (r"\lim_{x \to \pi/2} \tan x\sin(2x)", [
        "lim_(x -> pi/2) ((2sin(x)*cos(x))*(sin(x)/cos(x))) | Write everything in sine and cosine.",
        "lim_(x -> pi/2) (2sin(x)^2) | Cancel what stands above and below.",
        "2 | The function is continuous there: put the point in.",
    ]),
    # far out: divided by what grows most below
    (r"\lim_{x \to \infty} \frac{3x^2 + 2x - 1}{x^2 + 5}", [
        "lim_(x -> infinity) ((3 + 2/x - 1/x^2)/(1 + 5/x^2)) | Divide above and below by x^2.",
        "3 | 2/x, 1/x^2 and their like tend to 0.",
    ]),
    (r"\lim_{x \to -\infty} \frac{4x}{\sqrt{x^2 - 1}}", [
        "lim_(x -> -infinity) (4/(-sqrt(1 - 1/x^2))) | Divide above and below by x. For negative x it is sqrt(x^2) = -x.",
        "-4 | 1/x^2 tends to 0.",
    ]),
    (r"\lim_{x \to \infty} \frac{2e^x + 1}{e^x - 3}", [
        "lim_(x -> infinity) ((2 + e^(-x))/(1 - 3*e^(-x))) | Divide above and below by e^x.",
        "2 | e^(-x) and 3*e^(-x) tend to 0.",
    ]),
    (r"\lim_{x \to -\infty} (x^2 + 10x + 25)", [
        "lim_(x -> -infinity) (x^2*(1 + 10/x + 25/x^2)) | Take out the highest power x^2.",
        "infinity | x^2 tends to infinity, and the rest to 1.",
    ]),
    (r"\lim_{x \to \infty} (\sqrt{x} - \ln x)", [
        "0 | Every power outgrows the logarithm.",
        "lim_(x -> infinity) (sqrt(x)*(1 - ln(x)/sqrt(x))) | Take out sqrt(x), which outgrows the rest.",
        "infinity | sqrt(x) tends to infinity, and the rest to 1.",
    ]),
    (r"\lim_{x \to \infty} (\ln(2x + 1) - \ln x)", [
        "lim_(x -> infinity) (ln((2x + 1)/x)) | Use a law of logarithms.",
        "ln(lim_(x -> infinity) ((2x + 1)/x)) | The function outside is continuous: take the limit of the inside.",
        "ln(lim_(x -> infinity) (2 + 1/x)) | Divide above and below by x.",
        "ln(2) | 1/x tends to 0.",
    ]),
    # l'Hôpital: the form is a quotient, its derivatives are seen before they are simplified
    (r"\lim_{x \to 0^+} x\ln x", [
        "lim_(x -> 0^+) (ln(x)/(1/x)) | Write it as a quotient.",
        "lim_(x -> 0^+) (1/x/(-1/x^2)) | The form is ∞/∞: differentiate above and below.",
        "lim_(x -> 0^+) (-x) | Simplify.",
        "0 | The function is continuous there: put the point in.",
    ]),
    (r"\lim_{x \to \infty} \frac{x^2}{e^x}", [
        "lim_(x -> infinity) (2x/e^x) | The form is ∞/∞: differentiate above and below.",
        "lim_(x -> infinity) (2/e^x) | The form is ∞/∞: differentiate above and below.",
        "0 | The exponent tends to -infinity.",
    ]),
    (r"\lim_{x \to \infty} (1 + \frac{2}{x})^x", [
        "e^(lim_(x -> infinity) (x*ln(1 + 2/x))) | Write the power as an exponential and take the limit of the exponent.",
        "e^(lim_(x -> infinity) (2*(ln(1 + 2/x)/(2/x)))) | Bring each factor to the form of a standard limit.",
        "e^2 | As 2/x tends to 0, ln(1 + 2/x)/(2/x) tends to 1.",
    ]),
    # squeezed, and a sum with something that is squeezed
    (r"\lim_{x \to 0} x^2\sin\frac{1}{x}", [
        "0 | The bound tends to zero.",
        "0 | sin(1/x) stays between -1 and 1, so the size is at most x^2: squeezed to zero.",
    ]),
    (r"\lim_{x \to \infty} \frac{x + \sin x}{x}", [
        "lim_(x -> infinity) (1 + sin(x)/x) | Divide each term above by what stands below.",
        "1 + lim_(x -> infinity) (sin(x)/x) | Take the limit of each term.",
        "0 | The bound tends to zero.",
        "1 | sin(x) stays between -1 and 1, so the size is at most |1/x|: squeezed to zero.",
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


# As the question stands there is a quotient: turning it over (x over 1/ln x) is no second method.
@pytest.mark.parametrize("question", [r"\frac{\sin 3x}{x}", r"\frac{e^{2x} - 1}{x}", r"\frac{x}{\sin 4x}"])
def test_a_quotient_is_differentiated_as_it_stands(question: str) -> None:
    routes = [r for r in solve(rf"\lim_{{x \to 0}} {question}").routes if r.method == "lhopital"]
    assert len(routes) == 1
    assert all(line.reason.text != "Write it as a quotient." for line in routes[0].lines)


@pytest.mark.parametrize("question", [r"\lim_{x \to 3} \frac{x^2 - 9}{x - 3}", r"\lim_{h \to 0} \frac{\frac{1}{3 + h} - \frac{1}{3}}{h}"])
def test_the_point_is_never_put_into_zero_over_zero(question: str) -> None:
    route = solve(question).routes[0]
    before = route.lines[-2]
    assert "Cancel" in before.reason.text
