"""Limits by the method a first course teaches for each kind, before l'Hôpital's rule where there is one.

Questions invented, of the kinds of APEX Calculus v3, sections 1.3 to 1.6, and OpenStax Calculus 1, sections 2.3 and 4.6; values by
hand (that of ((x + h)³ - x³)/h is the derivative); the choice of method and the wording are common practice, no source.
"""

from __future__ import annotations

import pytest
from asking import solve

from everyline.kernel import Checked
from everyline.notation import plain
from everyline.notation.message import fill

LINES = [
    # both conjugates at once; for a cube root the other factor of a difference of cubes
    (r"\lim_{x \to 2} \frac{\sqrt{6-x} - 2}{\sqrt{3-x} - 1}", "", [
        "lim_(x -> 2) ((2 - x)*(sqrt(3 - x) + 1)/((2 - x)*(sqrt(6 - x) + 2))) "
        "| Multiply above and below by both conjugates, sqrt(6 - x) + 2 and sqrt(3 - x) + 1.",
        "lim_(x -> 2) ((sqrt(3 - x) + 1)/(sqrt(6 - x) + 2)) | Cancel 2 - x.",
        "1/2 | The function is continuous there: put the point in.",
    ]),
    (r"\lim_{x \to 8} \frac{\sqrt[3]{x} - 2}{x - 8}", "", [
        "lim_(x -> 8) ((x - 8)/((x - 8)*(x^(2/3) + 2sqrt[3](x) + 4))) "
        "| Multiply above and below by the conjugate x^(2/3) + 2sqrt[3](x) + 4.",
        "lim_(x -> 8) (1/(x^(2/3) + 2sqrt[3](x) + 4)) | Cancel x - 8.",
        "1/12 | The function is continuous there: put the point in.",
    ]),
    # letters for numbers
    (r"\lim_{x \to a} \frac{x^3-a^3}{x^2-a^2}", "a > 0", [
        "lim_(x -> a) ((x^2 + a*x + a^2)*(x - a)/((x + a)*(x - a))) | Factor above and below.",
        "lim_(x -> a) ((x^2 + a*x + a^2)/(x + a)) | Cancel x - a.",
        "3/2*a | The function is continuous there: put the point in.",
    ]),
    (r"\lim_{h \to 0} \frac{(x+h)^3-x^3}{h}", "x > 0", [
        "lim_(h -> 0) ((3h*x^2 + 3h^2*x + h^3)/h) | Multiply out and collect like terms.",
        "lim_(h -> 0) ((h^2 + 3h*x + 3x^2)*h/h) | Factor above the bar.",
        "lim_(h -> 0) (h^2 + 3h*x + 3x^2) | Cancel h.",
        "3x^2 | The function is continuous there: put the point in.",
    ]),
    # what only swings beside what grows, and between bounds that go to zero
    (r"\lim_{x \to \infty} \frac{x + \cos x}{x - \sin x}", "", [
        "lim_(x -> infinity) ((1 + cos(x)/x)/(1 - sin(x)/x)) | Divide above and below by x.",
        "1 | cos(x)/x and sin(x)/x tend to 0.",
    ]),
    (r"\lim_{x \to \infty} \frac{2 - \cos x}{x + 3}", "", [
        "0 | The bound tends to zero.",
        "0 | 2 - cos(x) stays between 1 and 3, so the size is at most 3*|1/(x + 3)|: squeezed to zero.",
    ]),
    # a standard limit far out
    (r"\lim_{x \to \infty} x \sin\frac{3}{x}", "", [
        "lim_(x -> infinity) (3*(sin(3/x)/(3/x))) | Bring each factor to the form of a standard limit.",
        "3*1 | As 3/x tends to 0, sin(3/x)/(3/x) tends to 1.",
        "3 | Work out the value.",
    ]),
    # the inside first
    (r"\lim_{x \to \infty} \sqrt{\frac{9x+1}{x+4}}", "", [
        "sqrt(lim_(x -> infinity) ((9x + 1)/(x + 4))) | The function outside is continuous: take the limit of the inside.",
        "sqrt(lim_(x -> infinity) ((9 + 1/x)/(1 + 4/x))) | Divide above and below by x.",
        "3 | 1/x and 4/x tend to 0.",
    ]),
    # bars: on each side what they are there, and every step after that
    (r"\lim_{x \to 0^-} (\frac{1}{x} - \frac{1}{|x|})", "", [
        "lim_(x -> 0^-) (2/x) | On this side |x| = -x.",
        "-infinity | The denominator x is negative there and tends to 0.",
    ]),
    (r"\lim_{x \to 1} \frac{|x - 1| + |x| - 1}{x - 1}", "", [
        "lim_(x -> 1^-) (((1 - x) + |x| - 1)/(x - 1)) | On this side |x - 1| = 1 - x.",
        "0 | On this side |x| = x.",
        "lim_(x -> 1^+) (((x - 1) + |x| - 1)/(x - 1)) | On this side |x - 1| = x - 1.",
        "lim_(x -> 1^+) (((x - 1) + x - 1)/(x - 1)) | On this side |x| = x.",
        "lim_(x -> 1^+) (2(x - 1)/(x - 1)) | Factor above the bar.",
        "2 | Cancel x - 1.",
        "does not exist | The limits from the left and from the right differ.",
    ]),
    (r"\lim_{x \to 3} \frac{|x - 3|}{x^2 - 9}", "", [
        "lim_(x -> 3^-) ((3 - x)/(x^2 - 9)) | On this side |x - 3| = 3 - x.",
        "lim_(x -> 3^-) ((3 - x)/((x + 3)*(x - 3))) | Factor below the bar.",
        "lim_(x -> 3^-) (-1/(x + 3)) | Cancel 3 - x.",
        "-1/6 | The function is continuous there: put the point in.",
        "lim_(x -> 3^+) ((x - 3)/(x^2 - 9)) | On this side |x - 3| = x - 3.",
        "lim_(x -> 3^+) ((x - 3)/((x + 3)*(x - 3))) | Factor below the bar.",
        "lim_(x -> 3^+) (1/(x + 3)) | Cancel x - 3.",
        "1/6 | The function is continuous there: put the point in.",
        "does not exist | The limits from the left and from the right differ.",
    ]),
]  # fmt: skip


@pytest.mark.parametrize(("question", "given", "lines"), LINES, ids=[q for q, _, _ in LINES])
def test_a_limit_is_worked_out_as_it_is_taught(question: str, given: str, lines: list[str]) -> None:
    route = solve(question, given=given).routes[0]
    assert [f"{plain(line.shown)} | {fill(line.reason, plain)}" for line in route.lines] == lines
    assert all(isinstance(line.checked, Checked) for line in route.lines)


def test_bars_at_the_point_are_not_differentiated() -> None:
    assert [route.method for route in solve(r"\lim_{x \to 0} \frac{x^2}{|x|}").routes] == ["limit-sides"]


LETTERS = [
    (r"\int_0^\infty e^{-ax} \, dx", "a > 0", "1/a"),
    (r"\int_0^\infty e^{-ax} \cos bx \, dx", "a > 0, b > 0", "a/(a^2 + b^2)"),
    (r"\int_1^\infty \frac{1}{x^p} \, dx", "p > 1", "1/(p - 1)"),
    (r"\int_1^\infty \frac{1}{x^p} \, dx", "p > 0, p < 1", "diverges"),
    (r"\int_{-a}^a |x| \, dx", "a > 0", "a^2"),
    (r"\lim_{x \to \infty} e^{-ax}", "a < 0", "infinity"),
]


@pytest.mark.parametrize(("question", "given", "value"), LETTERS)
def test_signs_of_letters_are_those_that_are_given(question: str, given: str, value: str) -> None:
    route = solve(question, given=given).routes[0]
    assert plain(route.answer) == value
    assert all(isinstance(line.checked, Checked) for line in route.lines if line.kind != "let")


def test_a_sign_that_is_not_given_decides_nothing() -> None:
    assert not solve(r"\int_0^\infty e^{-ax} \, dx", given="a != 0").routes
