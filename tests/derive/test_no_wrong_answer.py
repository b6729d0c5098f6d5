"""No answer of the deriver is wrong: its derivative agrees numerically with the integrand, computed by mpmath alone.

Rows: NIST DLMF chapter 4, Abramowitz & Stegun, OpenStax Calculus appendix A (`tests/reference/tables.jsonl`).
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import mpmath
import pytest
from asking import solve

from everyline.notation import Context, parse, parse_domain, plain
from everyline.notation.build import add, contains
from everyline.notation.tree import ArbitraryConstant, Integral, Node, Sum

ROWS = [json.loads(line) for line in (Path(__file__).parents[1] / "reference" / "tables.jsonl").read_text(encoding="utf-8").splitlines()]
INDEFINITE = [row for row in ROWS if row["kind"] == "indefinite"]
#: Read by mpmath below; the same names as in the rows.
NAMES = {
    name: getattr(mpmath, name)
    for name in ("sin", "cos", "tan", "sec", "csc", "cot", "asin", "acos", "atan", "sinh", "cosh", "tanh", "sech", "csch", "coth", "asinh",
                 "acosh", "atanh", "exp", "sqrt", "log", "sign")
}  # fmt: skip


def function(node: Node) -> str:
    """A tree as a Python expression for mpmath."""
    text = plain(node, every_operator=True).replace("^", "**")
    for ours, theirs in (("arcsin", "asin"), ("arccos", "acos"), ("arctan", "atan"), ("arsinh", "asinh"), ("arcosh", "acosh"),
                         ("artanh", "atanh"), ("ln(", "log("), ("sgn(", "sign(")):  # fmt: skip
        text = text.replace(ours, theirs)
    return text


def at(text: str, x: mpmath.mpf) -> mpmath.mpf:
    scope = NAMES | {"x": x, "e": mpmath.e, "pi": mpmath.pi, "abs": abs, "arcsec": lambda t: mpmath.acos(1 / t)}
    return eval(text, {"__builtins__": {}}, scope)


@pytest.mark.parametrize("row", INDEFINITE, ids=[row["id"] for row in INDEFINITE])
def test_the_derivative_of_an_answer_is_the_integrand(row: dict[str, str]) -> None:
    context = Context(names=frozenset({"x"}), log="natural")
    integrand = parse(row["integrand"], context)
    found = solve(rf"\int ({plain(integrand)}) dx")
    for route in found.routes:
        assert not contains(route.answer, Integral)
        answer = (
            add(*(t for t in route.answer.terms if not contains(t, ArbitraryConstant))) if isinstance(route.answer, Sum) else route.answer
        )
        f, g = function(integrand), function(answer)
        for point in points(row["domain"]):
            with mpmath.workdps(40):
                x = mpmath.mpf(point.numerator) / point.denominator
                slope = mpmath.diff(lambda t, g=g: at(g, t), x)
                assert mpmath.almosteq(slope, at(f, x), rel_eps=mpmath.mpf(10) ** -12, abs_eps=mpmath.mpf(10) ** -12), (
                    route.techniques,
                    point,
                )


def points(domain: str) -> list[Fraction]:
    """A few points inside the first stretch of a row's domain."""
    region = parse_domain(domain.replace("oo", "infinity").split(" U ")[0], "x", Context(names=frozenset({"x"})))
    low, high = (float(end) if end is not None else None for end in (_end(region.lower), _end(region.upper)))  # type: ignore[union-attr]
    if low is None:
        low = (high - 4) if high is not None else -2.0
    if high is None:
        high = low + 4
    return [Fraction(low + (high - low) * k / 7).limit_denominator(1000) for k in (1, 3, 5)]


def _end(node: Node) -> float | None:
    text = plain(node)
    return None if "infinity" in text or "∞" in text else float(at(function(node), mpmath.mpf(0)))
