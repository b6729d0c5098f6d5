"""A fold of finer steps opens on something that the line itself does not say."""

from __future__ import annotations

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
