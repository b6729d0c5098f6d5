"""Where expressions are defined, and their values with an error bound; beside mpmath at 50 digits."""

from __future__ import annotations

from fractions import Fraction
from math import inf

import mpmath
import pytest

from everyline.measure import components, enclose, increment, points, question_components
from everyline.notation import Context, parse, parse_question, plain
from everyline.notation.question import Given
from everyline.notation.tree import Node


def tree(text: str) -> Node:
    return parse(text, Context(names=frozenset("xa"), log="natural"))


# common practice, no source: what a first course says of each domain
DOMAINS = [
    ("1/(x^2-4)", [("-infinity", "-2"), ("-2", "2"), ("2", "infinity")]),
    ("ln(x-3)", [("3", "infinity")]),
    ("sqrt(9-x^2)", [("-3", "3")]),
    ("x^2", [("-infinity", "infinity")]),
    ("1/(x^2+1)", [("-infinity", "infinity")]),
    ("x^(1/3)", [("-infinity", "0"), ("0", "infinity")]),
    ("sqrt(x)*ln(2-x)", [("0", "2")]),
    ("arcsin(x/5)", [("-5", "5")]),
]


@pytest.mark.parametrize(("text", "wanted"), DOMAINS)
def test_the_natural_domain_with_exact_ends(text: str, wanted: list[tuple[str, str]]) -> None:
    found = components(tree(text), "x")
    assert [(plain(c.lower.exact), plain(c.upper.exact)) for c in found if c.lower.exact and c.upper.exact] == wanted


def test_the_poles_of_a_tangent_are_multiples_of_pi() -> None:
    inner = [c for c in components(tree("tan(x)"), "x") if c.lower.low < 1 < c.upper.high]
    assert [(plain(c.lower.exact), plain(c.upper.exact)) for c in inner if c.lower.exact and c.upper.exact] == [("-1/2*pi", "1/2*pi")]
    assert inner[0].window


def test_an_end_that_is_no_simple_number_is_enclosed() -> None:
    (left, right) = components(tree("1/(x^3-2)"), "x")
    assert left.upper.exact is None
    assert left.upper.low < 2 ** (1 / 3) < left.upper.high < left.upper.low + 1e-12
    assert right.upper.high == inf


def test_the_integrand_of_a_definite_integral_lies_between_its_limits() -> None:
    question = parse_question(r"\int_{5}^{1} \frac{7}{x-3} \, dx", Given(), Context())
    assert [(plain(c.lower.exact), plain(c.upper.exact)) for c in question_components(question)] == [("1", "3"), ("3", "5")]  # type: ignore[arg-type]


@pytest.mark.parametrize("text", [text for text, _ in DOMAINS] + ["tan(x)", "ln(sin(x))", "1/(x^2-10^(-20))"])
def test_points_lie_in_their_component_and_have_values(text: str) -> None:
    for component in components(tree(text), "x"):
        found = points(component, 8)
        assert len(set(found)) == 8
        assert list(found) == sorted(found)
        assert all(component.lower.low <= x <= component.upper.high for x in found)
        assert all(enclose(tree(text), {"x": x}) is not None for x in found)


VALUES = [
    ("sin(x)", Fraction(7, 5)),
    ("e^x", Fraction(-30)),
    ("x^(1/3)", Fraction(-1, 11)),
    ("ln(x)", Fraction(10**9 + 1, 10**9)),
    ("arctan(x)", Fraction(23)),
]
BY_MPMATH = {"sin(x)": mpmath.sin, "e^x": mpmath.exp, "x^(1/3)": lambda x: -mpmath.cbrt(-x), "ln(x)": mpmath.log, "arctan(x)": mpmath.atan}


@pytest.mark.parametrize(("text", "x"), VALUES)
@pytest.mark.parametrize("digits", [6, 15, 30])
def test_a_value_is_as_close_as_it_says(text: str, x: Fraction, digits: int) -> None:
    found = enclose(tree(text), {"x": x}, digits)
    assert found is not None
    with mpmath.workdps(60):
        true = BY_MPMATH[text](mpmath.mpf(x.numerator) / x.denominator)
        assert abs(mpmath.mpf(found.text) - true) <= found.error <= abs(true) * mpmath.mpf(10) ** (1 - digits)
        assert abs(mpmath.mpf(float(found.text)) - true) <= found.float_error


def test_zero_and_what_cancels() -> None:
    zero = enclose(tree("sin(x)^2+cos(x)^2-1"), {"x": Fraction(3)})
    assert zero is not None
    assert zero.error < 1e-15
    tiny = enclose(tree("10^(-40)+x-x"), {"x": Fraction(1)})
    assert tiny is not None
    assert float(tiny.text) == pytest.approx(1e-40)


@pytest.mark.parametrize(("text", "x"), [("1/x", 0), ("ln(x)", -2), ("sqrt(x)", -1), ("a*x", 1)])
def test_what_has_no_value_has_none(text: str, x: int) -> None:
    assert enclose(tree(text), {"x": Fraction(x)}) is None


def test_an_increment_forgets_the_constant() -> None:
    plainly = increment(tree("x^2/2"), "x", Fraction(1), Fraction(3))
    shifted = increment(tree("x^2/2+10^30"), "x", Fraction(1), Fraction(3))
    assert plainly is not None
    assert shifted is not None
    assert float(plainly.text) == float(shifted.text) == 4
