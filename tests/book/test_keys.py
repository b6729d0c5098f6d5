"""What is said of a key beyond the checker's word."""

from __future__ import annotations

import pytest

from everyline.book.keys import judge, key_context
from everyline.kernel import Refuted
from everyline.notation import Context, parse_question
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
