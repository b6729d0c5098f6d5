"""Tidying writes what a teacher writes and never changes a value; polynomials divide, factor and split as in the book."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pytest

from everyline.algebra import tidy
from everyline.algebra.expand import common_factor, multiply_out
from everyline.algebra.limits import INFINITY, tends
from everyline.algebra.poly import coefficients, factors, in_powers, linear, partial_fractions, quotient_remainder
from everyline.algebra.rewrite import express
from everyline.algebra.sympy_bridge import from_sympy, to_sympy
from everyline.kernel import Checked, Equal, Setting, check
from everyline.notation import Context, parse, plain
from everyline.notation.tree import Name, Node

CONTEXT = Context(names=frozenset({"x", "u", "a"}))


def tree(text: str) -> Node:
    return parse(text, CONTEXT)


TIDY = [
    ("x x", "x^2"), ("3x^2/6", "x^2/2"), ("2x+3x-x", "4x"), ("-(x-1)", "1-x"), (r"\frac{x+1}{(x+1)^2}", r"\frac{1}{x+1}"),
    (r"x\sqrt{x}", "x^{3/2}"), (r"\sqrt{12}", r"2\sqrt3"), (r"e^x e^{-x}", "1"), ("(2x)^3", "8x^3"), (r"\sin(-x)", r"-\sin x"),
    (r"\cos(-2x)", r"\cos 2x"), (r"|x^2+1|", "x^2+1"), (r"|x^2-2x+5|", "x^2-2x+5"), (r"\sin\frac{\pi}{3}", r"\frac{\sqrt3}{2}"),
    (r"\arctan\sqrt3", r"\frac{\pi}{3}"), (r"\ln e^{3x}", "3x"), (r"e^{3\ln x}", "x^3"), (r"\frac{x^2}{\sqrt{x}}", "x^{3/2}"),
    (r"\sin x\,x\,e^x", r"x e^x\sin x"), (r"\frac{1}{2\sqrt2}", r"\frac{\sqrt2}{4}"),
]  # fmt: skip


@pytest.mark.parametrize(("before", "after"), TIDY)
def test_tidying_writes_what_a_teacher_writes(before: str, after: str) -> None:
    assert plain(tidy(tree(before))) == plain(tidy(tree(after)))


@pytest.mark.parametrize("text", [before for before, _ in TIDY if "x" in before])
def test_tidying_keeps_the_value_and_settles(text: str) -> None:
    neat = tidy(tree(text))
    assert isinstance(check(Equal(tree(text), neat, Setting("x"))), Checked)
    assert tidy(neat) == neat


@pytest.mark.parametrize("text", [r"\sqrt{x^2}", r"(x^2)^{3/2}"])
def test_an_even_power_does_not_come_out_of_a_root_bare(text: str) -> None:
    assert "|" in plain(tidy(tree(text))) or plain(tidy(tree(text))) == plain(tree(text))


def test_division_leaves_a_remainder_of_lower_degree() -> None:
    top, bottom = coefficients(tree("x^3-2x+7"), "x"), coefficients(tree("x^2+1"), "x")
    assert top is not None
    assert bottom is not None
    assert quotient_remainder(top, bottom) == ((0, 1), (7, -3))


def test_factors_have_whole_coefficients_and_a_content() -> None:
    values = coefficients(tree("6x^3+6x^2-12x-12"), "x")
    assert values is not None
    assert factors(values) == (6, [((1, 1), 1), ((-2, 0, 1), 1)])


def test_partial_fractions_add_up() -> None:
    # 9x² + 11x + 7 over x(x+1)²: 7/x + 2/(x+1) - 5/(x+1)², worked by hand
    parts = partial_fractions((Fraction(7), Fraction(11), Fraction(9)), [((Fraction(0), Fraction(1)), 1), ((Fraction(1), Fraction(1)), 2)])
    assert parts == [((7,), (0, 1), 1), ((2,), (1, 1), 1), ((-5,), (1, 1), 2)]


def test_a_polynomial_is_written_in_powers_of_another() -> None:
    values, base = coefficients(tree("x^4+3x^2"), "x"), coefficients(tree("x^2+1"), "x")
    assert values is not None
    assert base is not None
    assert in_powers(values, base) == (-2, 1, 1)
    assert in_powers((Fraction(0), Fraction(1)), base) is None


def test_a_line_is_read_with_letters_for_its_coefficients() -> None:
    found = linear(tree("2x+a-3x"), "x")
    assert found is not None
    assert [plain(c) for c in found] == ["-1", "a"]
    assert linear(tree("x^2"), "x") is None


@pytest.mark.parametrize(
    ("text", "inside", "expected"),
    [
        ("x^4+1", "x^2", "u^2+1"),
        (r"e^{2x}+e^x", "e^x", "u^2+u"),
        (r"\sin^3 x", r"\sin x", "u^3"),
        (r"x\sin x", r"\sin x", None),
        ("x+1", "x^2", None),
    ],
)
def test_an_expression_is_written_in_an_inside_or_refused(text: str, inside: str, expected: str | None) -> None:
    found = express(tree(text), "x", tree(inside), "u")
    assert (None if found is None else plain(found)) == (None if expected is None else plain(tree(expected)))


def test_multiplying_out_and_taking_out() -> None:
    assert plain(multiply_out(tree("(x+4)(2x-1)"), "x")) == plain(tree("2x^2+7x-4"))
    assert plain(common_factor(tree("e^x+xe^x"))) == plain(tree("e^x(1+x)"))


@pytest.mark.parametrize(
    ("text", "point", "side", "value"),
    [(r"\frac{\sin x}{x}", "0", 1, "1"), (r"x\ln x", "0", 1, "0"), (r"\frac{x^2-4}{x-2}", "2", 1, "4"),
     (r"\arctan x", None, -1, r"\frac{\pi}{2}"), (r"\frac{e^x}{x^5}", None, -1, None)],
)  # fmt: skip
def test_a_limit_is_proposed(text: str, point: str | None, side: int, value: str | None) -> None:
    found = tends(tree(text), "x", INFINITY if point is None else tree(point), side)
    assert found == (INFINITY if value is None else tidy(tree(value)))


@pytest.mark.parametrize("text", [r"3x^2-\frac{1}{2}", r"\arctan\frac{x}{3}", r"|x|\,e^{-x}", r"\ln(x^2+1)\sqrt{x+5}", r"\sec x\tan x"])
def test_sympy_and_back_keeps_the_value(text: str) -> None:
    assert isinstance(check(Equal(tree(text), from_sympy(to_sympy(tree(text))), Setting("x"))), Checked)


def test_an_odd_root_is_real_in_sympy_too() -> None:
    assert to_sympy(tree(r"\sqrt[3]{x}")).subs("x", -8) is not None
    assert to_sympy(tree(r"\sqrt[3]{-8}")) == -2


def test_the_deriver_does_not_bring_in_sympy() -> None:
    code = "import sys, everyline.derive, everyline.techniques as t; t.catalogue(); raise SystemExit('sympy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_names_are_not_confused() -> None:
    assert express(tree("a x"), "x", tree("a x"), "u") == Name("u")
