"""A set in a browser: dealt one question at a time, remembered, complete without a script and on paper."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

Look = Callable[..., Any]
SET = "sets/low-water/"


def seen(page: Any) -> list[str]:
    return [each.inner_text() for each in page.locator(".ev-deal__number").all() if each.is_visible()]


def test_questions_are_dealt_one_at_a_time_by_keyboard(look: Look) -> None:
    page = look(SET)
    assert seen(page) == ["Question 1 of 3"]
    assert page.get_by_role("button", name="Previous question").is_disabled()
    page.get_by_role("button", name="Next question").focus()
    page.keyboard.press("Enter")
    assert seen(page) == ["Question 2 of 3"]
    assert page.evaluate("document.activeElement.textContent") == "Question 2 of 3", "the new question is announced"
    page.reload()
    assert seen(page) == ["Question 2 of 3"], "the place is kept"
    page.get_by_role("button", name="Show all").click()
    assert len(seen(page)) == 3


def test_a_set_without_a_script_is_a_plain_list(look: Look) -> None:
    page = look(SET, script=False)
    assert len(seen(page)) == 3
    assert page.get_by_role("button", name="Next question").count() == 0
    assert page.get_by_role("link", name="Hints and worked solutions").count() == 3


def test_a_set_is_printed_whole_and_without_answers(look: Look) -> None:
    page = look(SET)
    page.emulate_media(media="print")
    assert len(seen(page)) == 3
    assert not page.locator("#answer-1").is_visible()
    assert not page.locator(".ev-deal__buttons").is_visible()


def test_an_answer_is_judged_in_the_set_and_noted_for_its_problem(look: Look) -> None:
    page = look(SET)
    page.fill("#try-answer-1", "x^2/2 - 4x + 16ln|x+4| + C")
    page.press("#try-answer-1", "Enter")
    assert page.locator("#try-said-1").get_attribute("data-verdict") == "right"
    noted = page.evaluate("JSON.parse(Object.entries(localStorage).find(([key]) => key.startsWith('everyline:'))[1])")
    assert noted["below/ferry.md"]["right"]
    assert noted["below/ferry.md"]["address"] == "below/ferry/"
