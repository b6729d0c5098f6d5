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
from numeric import function, value

from everyline.notation import Context, parse, parse_domain, plain
from everyline.notation.build import contains
from everyline.notation.tree import Integral, Node

ROWS = [json.loads(line) for line in (Path(__file__).parents[1] / "reference" / "tables.jsonl").read_text(encoding="utf-8").splitlines()]
INDEFINITE = [row for row in ROWS if row["kind"] == "indefinite"]


@pytest.mark.parametrize("row", INDEFINITE, ids=[row["id"] for row in INDEFINITE])
def test_the_derivative_of_an_answer_is_the_integrand(row: dict[str, str]) -> None:
    context = Context(names=frozenset({"x"}), log="natural")
    integrand = parse(row["integrand"], context)
    found = solve(rf"\int ({plain(integrand)}) dx")
    assert found.routes
    for route in found.routes:
        assert not contains(route.answer, Integral)
        asked, answer = function(integrand), function(route.answer)
        for point in points(row["domain"]):
            with mpmath.workdps(40):
                x = mpmath.mpf(point.numerator) / point.denominator
                slope = mpmath.diff(answer, x)
                assert mpmath.almosteq(slope, asked(x), rel_eps=mpmath.mpf(10) ** -12, abs_eps=mpmath.mpf(10) ** -12), (
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
    return None if "infinity" in text or "∞" in text else float(value(node, {}))
