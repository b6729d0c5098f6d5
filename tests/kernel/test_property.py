"""A property: whatever is done to a right key, it is never accepted when mpmath finds it wrong. (Many more: `tests/benchmarks`.)"""

from __future__ import annotations

from functools import cache
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from published import OWN, asked, rows
from wrong_keys import surely_wrong, wrong_keys

from everyline.kernel import Checked, Undecided, check, question_claim
from everyline.notation.tree import Node


@cache
def right() -> list[tuple[Any, Node]]:
    return [asked(row) for row in rows(OWN / "tables.jsonl") if row["kind"] in ("indefinite", "derivative")]


@given(place=st.integers(0, 105), seed=st.integers(0, 10**9))
@settings(max_examples=120, deadline=None)
def test_no_corrupted_key_is_accepted(place: int, seed: int) -> None:
    question, key = right()[place % len(right())]
    bad = list(wrong_keys(key, question.variable, Random(seed), 40))[-1]
    outcome = check(question_claim(question, bad))
    assert not (isinstance(outcome, Undecided) and outcome.reason == "fault"), outcome
    assert not isinstance(outcome, Checked) or not surely_wrong(question, bad), bad
