"""What is said of a key beyond the checker's word."""

from __future__ import annotations

import pytest

from everyline.book.keys import judge, key_context
from everyline.book.words import agreeing
from everyline.kernel import Checked, Refuted
from everyline.notation import Context, parse_question, plain
from everyline.notation.message import fill
from everyline.notation.question import Given


@pytest.mark.parametrize(
    ("question", "key", "reason"),
    [
        (r"\int \frac{1}{x} \, dx", r"\ln x + C", "needs-absolute-value"),
        (r"\int \tan x \, dx", r"-\ln(\cos x) + C", "needs-absolute-value"),
        (r"\int \frac{1}{x} \, dx", r"\ln x + x\sqrt{x} - x\sqrt{x} + C", "undefined"),
        (r"\int \frac{1}{x} \, dx", r"2\ln x + C", "differs"),
    ],
)
def test_a_logarithm_that_lacks_its_bars_is_told_from_other_faults(question: str, key: str, reason: str) -> None:
    asked = parse_question(question, Given(), Context(log="natural"))
    outcome = judge(asked, key, key_context(asked, "natural", "point")).outcome
    assert isinstance(outcome, Refuted)
    assert outcome.reason == reason


def test_a_value_that_no_antiderivative_proves_agrees_to_many_digits() -> None:
    """NIST DLMF, Eq. 7.7.1 at z = i; and a number that only looks like it, right to twelve places."""
    asked = parse_question(r"\int_0^\infty e^{-x^2}\cos 2x \, dx", Given(), Context())
    right = judge(asked, r"\frac{\sqrt{\pi}}{2e}", key_context(asked, "natural", "point")).outcome
    assert isinstance(right, Checked)
    assert (right.grade, right.points) == ("enclosed", 1)
    assert fill(agreeing(right), plain) == f"agrees to {right.digits} digits"
    assert isinstance(judge(asked, "0.326024666087", key_context(asked, "natural", "point")).outcome, Refuted)
