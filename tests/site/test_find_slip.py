"""“Find the slip” in a browser, also without a script: a line is asked, and the wrong one shows the right one beside it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Look = Callable[..., Any]


@pytest.mark.parametrize("script", [True, False])
def test_one_line_is_the_wrong_one(look: Look, script: bool) -> None:
    page = look("below/ferry/", script=script)
    page.locator("#find-the-slip > summary").click()
    asked = page.locator("#find-the-slip .ev-line > details")
    answers = []
    for number in range(asked.count()):
        asked.nth(number).locator("summary").click()
        answers.append(asked.nth(number).locator(".ev-fold__body").inner_text())
    wrong = [text for text in answers if text.startswith("Yes.")]
    assert len(wrong) == 1
    assert "The right line:" in wrong[0]
    assert all(text.startswith("No:") for text in answers if text not in wrong)


def test_nothing_shows_the_wrong_line_before_it_is_asked(look: Look) -> None:
    page = look("below/ferry/")
    page.locator("#find-the-slip > summary").click()
    shown = page.locator("#find-the-slip").inner_text()
    assert "Yes." not in shown
    assert "right line" not in shown.replace("One line", "")
