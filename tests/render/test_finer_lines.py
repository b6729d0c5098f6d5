"""A fold of finer steps opens on something that the line itself does not say."""

from __future__ import annotations

import re

import pytest

from everyline.derive import derive
from everyline.notation import Context, parse_question
from everyline.notation.question import Given
from everyline.render.addresses import Addresses, Here
from everyline.render.solutions import worked

HERE = Here("tides/one.md", Addresses())
FOLD = "In finer steps"


@pytest.mark.parametrize(
    ("question", "folded"),
    [
        (r"\int \frac{1}{\sqrt{36 - x^2}} \, dx", False),  # the form alone: the line is the form
        (r"\int \frac{5}{\sqrt{36 - x^2}} \, dx", True),  # a constant in front: the form stands in the fold
    ],
)
def test_a_fold_is_there_where_it_says_more(question: str, folded: bool) -> None:
    found = derive(parse_question(question, Given(), Context(log="natural")), most=1)
    assert (FOLD in worked(found.routes, HERE)[0]) == folded


#: (question, how its finer steps stand at level 1, 2 and 3): "open", "closed" or "" where there are none.
LEVELS = [
    (r"\int (3x^2 + \cos x) \, dx", ("open", "closed", "")),  # standard forms put in one by one
    (r"\int \frac{5x-3}{x^2-2x-3} \, dx", ("open", "closed", "closed")),  # where the numbers of partial fractions come from
    (r"\int \frac{x^2}{x+3} \, dx", ("open", "closed", "closed")),  # the division itself
]  # fmt: skip


@pytest.mark.parametrize(("question", "states"), LEVELS)
def test_level_1_shows_more_and_level_3_less(question: str, states: tuple[str, ...]) -> None:
    """The deriver's issue: "a fold holds the finer steps (level 1 shows more, level 3 less)"."""
    found = derive(parse_question(question, Given(), Context(log="natural")), most=1)
    for level, state in enumerate(states, 1):
        page = worked(found.routes, HERE, level=level)[0]
        folds = re.findall(r'<details[^>]*class="ev-fold ev-finer"[^>]*>', page)
        assert {"open" if " open" in each else "closed" for each in folds[:1]} == ({state} if state else set())
