"""Integrals up to infinity without an elementary antiderivative: what lies beyond a cut is bounded, and only by bounds that hold."""

from __future__ import annotations

import pytest

from everyline.derive.tails import tails
from everyline.kernel import Checked, IntegralValue, Refuted, Setting, Tail, check
from everyline.notation import Context, parse
from everyline.notation.tree import Integral, Node

NAMES = Context(names=frozenset({"x"}), log="natural")


def tree(text: str) -> Node:
    return parse(text.replace("oo", "infinity"), NAMES)


def said(f: str, low: str, high: str, value: str | Node, *bounds: tuple[str, str, str, str]) -> str:
    """The word for a value: with these bounds, or with those that the deriver finds."""
    node = Integral(tree(f), "x", tree(low), tree(high))
    found = tuple(Tail(*map(tree, bound)) for bound in bounds) or tails(node)
    assert found
    claimed = tree(value) if isinstance(value, str) else value
    verdict = check(IntegralValue(node.integrand, tree(low), tree(high), claimed, Setting("x"), found))
    return verdict.grade if isinstance(verdict, Checked) else "refuted" if isinstance(verdict, Refuted) else "undecided"


@pytest.mark.parametrize(
    ("f", "low", "high", "value"),
    [
        ("e^(-4x^2)", "-oo", "oo", "sqrt(pi)/2"),  # NIST DLMF, Eq. 4.10.11
        ("e^(-x^2)", "0", "oo", "sqrt(pi)/2"),  # NIST DLMF, Eq. 7.2.1 with erf(∞) = 1
        ("x^2*e^(-x^2)", "0", "oo", "sqrt(pi)/4"),  # NIST DLMF, Eq. 5.9.1 (μ = 2, ν = 3)
        ("x^4*e^(-x^2/2)", "-oo", "oo", "3sqrt(2pi)"),  # the same, and NIST DLMF, Eq. 5.4.6
        ("e^(-x^2)*cos(2x)", "-oo", "oo", "sqrt(pi)/e"),  # NIST DLMF, Eq. 7.7.1 at z = i: completing the square
    ],
)
def test_published_values_are_enclosed_and_their_neighbours_refuted(f: str, low: str, high: str, value: str) -> None:
    assert said(f, low, high, value) == "enclosed"
    assert said(f, low, high, f"{value} + 1/10^12") == "refuted"


@pytest.mark.parametrize(
    ("why", "f", "bound"),
    [
        ("the factor is large", "e^(-x^2)", ("1", "oo", "-e^(-x^2)/10^40", "10^40/(2x)")),
        ("it is not the integrand", "e^(-x^2)", ("1", "oo", "-e^(-x^2)/10^40", "1/(2x)")),
        ("the slope changes its sign", "(x-1)*(3-x)*e^(-x)/(1+x^2)", ("1", "oo", "(x-1)^2*e^(-x)", "1/(1+x^2)")),
        ("the primitive has a pole", "1/(1+x^2)^2", ("1", "oo", "1/(x-2) + 1/x", "-1/(1+x^2)^2/(1/(x-2)^2 + 1/x^2)")),
        (
            "the primitive jumps",
            "1/(1+x^2)^2",
            ("1", "oo", "arctan(1/(x-2)) + arctan(1/x)", "-1/(1+x^2)^2/(1/(1+(x-2)^2) + 1/(1+x^2))"),
        ),
        ("the primitive is not bounded", "e^(-x^2)", ("1", "oo", "x-1", "e^(-x^2)")),
        ("there is a gap beyond it", "e^(-x^2)", ("1", "1 + 2^(-60)", "x", "e^(-x^2)")),
    ],
)
def test_a_bound_that_does_not_hold_makes_no_wrong_value_stand(why: str, f: str, bound: tuple[str, str, str, str]) -> None:
    """The value claimed is the integral from 0 to 1 alone, which a bound that is too small makes of the integral to infinity."""
    short = Integral(tree(f), "x", tree("0"), tree("1"))
    assert said(f, "0", "oo", short, bound) == "undecided", why


def test_a_value_at_infinity_needs_a_bound_at_each_end() -> None:
    upper = ("8", "oo", "-e^(-x^2)", "1/(2x)")
    assert said("e^(-x^2)", "0", "oo", "sqrt(pi)/2", upper) == "enclosed"
    assert said("e^(-x^2)", "-oo", "oo", "sqrt(pi)", upper) == "undecided"
