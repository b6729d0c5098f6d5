"""Integrals between limits: every line that is shown has a check of its own, and every method has a name that pages know."""

from __future__ import annotations

import pytest
from asking import solve

from everyline.kernel import Checked, Equal, IntegralValue
from everyline.notation.tree import Integral
from everyline.render.terminal import worked
from everyline.techniques import catalogue

VALUES = [
    r"\int_1^4 \frac{3}{\sqrt{x}} \, dx", r"\int_0^2 x^2 e^{x^3} \, dx", r"\int_0^\infty e^{-4x} \, dx", r"\int_0^1 \ln x \, dx",
    r"\int_2^5 \frac{1}{x^2 - 1} \, dx", r"\int_{-2}^{2} x^5 \, dx",
]  # fmt: skip


@pytest.mark.parametrize("question", VALUES)
def test_each_line_is_checked_for_what_it_shows(question: str) -> None:
    routes = solve(question).routes
    assert routes
    for route in routes:
        chain = [line for line in route.lines if not (isinstance(line.left, Integral) and line.left.lower is None)]
        start = next(
            n for n, line in enumerate(chain) if isinstance(line.checked, Checked) and isinstance(line.checked.claim, IntegralValue)
        )
        for before, line in zip(chain[start:], chain[start + 1 :], strict=False):
            assert isinstance(line.checked, Checked)
            claim = line.checked.claim
            if isinstance(claim, Equal):
                assert claim.right == line.shown
                assert claim.left == before.shown
            else:  # a bracket at an open end means the limits that are written out below it
                assert isinstance(claim, IntegralValue)
                assert claim.value == line.shown


def test_symmetry_is_proved_and_has_a_title() -> None:
    found = solve(r"\int_{-2}^{2} x^5 \, dx")
    assert found.routes[0].method == "symmetry"
    assert all(line.checked is not None and line.checked.grade == "proved" for line in found.routes[0].lines)
    assert all(route.method in catalogue() for route in found.routes)
    assert "Symmetry" in worked(found)


def test_the_terminal_shows_one_method_unless_all_are_asked_for() -> None:
    found = solve(r"\int x \sqrt{x + 2} \, dx")
    assert worked(found).count("Method ") == 1
    assert f"{len(found.routes) - 1} more ways: --all" in worked(found)
    everything = worked(found, everything=True)
    assert everything.count("Method ") == len(found.routes)
    assert "What does not help here" in everything
