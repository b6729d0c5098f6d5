"""Derivatives as they are written in the check of an answer (common practice, no source): no quotient rule where none is needed."""

from __future__ import annotations

import pytest

from everyline.algebra.derivative import derivative
from everyline.notation import Context, parse, plain


@pytest.mark.parametrize(
    ("text", "written"),
    [
        (r"\frac{3}{x^2}", "-3*2/x^3"),
        (r"\frac{3}{4x}", "-3/(4x^2)"),
        (r"\frac{4}{3\sqrt{x}}", "-4/(3*2x*sqrt(x))"),
        (r"\frac{6}{\sqrt[3]{x}}", "-6/(3x*sqrt[3](x))"),
        (r"\frac{5}{8}\ln x", "5/(8x)"),
        (r"3\arctan x", "3/(1 + x^2)"),
        (r"\ln(3 + \arctan x)", "1/((1 + x^2)*(3 + arctan(x)))"),
        (r"\ln\left|\frac{x - 2}{x + 2}\right|", "1/(x - 2) - 1/(x + 2)"),
    ],
)
def test_a_derivative_is_written_without_detours(text: str, written: str) -> None:
    assert plain(derivative(parse(text, Context(names=frozenset({"x"}), log="natural")), "x")) == written
