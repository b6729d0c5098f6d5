"""A solution at the reader's pace, the board, and the progress that is kept in the browser: by keyboard, as on the page."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

Look = Callable[..., Any]
PROBLEM = "below/ferry/"
SOLUTION = ".ev-solution >> nth=0"


@pytest.fixture
def opened(look: Look) -> Any:
    page = look(PROBLEM)
    page.locator(f"{SOLUTION} >> summary >> nth=0").click()
    return page


def shown(page: Any) -> int:
    return page.evaluate("[...document.querySelector('.ev-solution .ev-lines').children].filter(line => line.checkVisibility()).length")


def waiting(page: Any) -> list[str]:
    return page.evaluate("[...document.querySelectorAll('.ev-board section > .ev-lines > li')].map(line => line.dataset.wait ?? '')")


def test_lines_come_one_at_a_time_when_asked_for(opened: Any) -> None:
    every = shown(opened)
    opened.locator(f"{SOLUTION} >> [data-act=step]").press("Enter")
    assert shown(opened) == 1
    following = opened.locator(f"{SOLUTION} >> [data-act=next]")
    for count in range(2, every + 1):
        following.press("Enter")
        assert shown(opened) == count
    assert following.is_hidden()
    assert opened.evaluate("document.activeElement.dataset.act") == "step", "the focus is not lost with the button"


def test_all_lines_come_back(opened: Any) -> None:
    every = shown(opened)
    step = opened.locator(f"{SOLUTION} >> [data-act=step]")
    step.click()
    step.click()
    assert shown(opened) == every


def test_the_board_asks_before_each_line_and_goes_back(opened: Any) -> None:
    opened.locator(f"{SOLUTION} >> [data-act=board]").click()
    first = waiting(opened)
    assert first[0] == ""
    assert set(first[1:]) <= {"all", "line"}
    while "all" in waiting(opened) or "line" in waiting(opened):
        before = waiting(opened)
        opened.keyboard.press("ArrowRight")
        assert waiting(opened) != before, "every press shows something"
    opened.keyboard.press("ArrowLeft")
    assert waiting(opened)[-1] == "all"


def test_without_asking_each_press_is_a_line(opened: Any) -> None:
    opened.locator(f"{SOLUTION} >> [data-act=board]").click()
    opened.locator(".ev-board [data-act=ask]").click()
    opened.locator(".ev-board__lines").focus()
    assert "all" in waiting(opened)
    while "line" in (now := waiting(opened)) or "all" in now:
        opened.keyboard.press(" ")
        assert waiting(opened).count("") == now.count("") + 1


def test_the_board_closes_with_escape_and_gives_the_focus_back(opened: Any) -> None:
    opened.locator(f"{SOLUTION} >> [data-act=board]").click()
    for _ in range(2):  # the first may only end the full screen
        if opened.evaluate("document.querySelector('.ev-board').open"):
            opened.keyboard.press("Escape")
            opened.wait_for_timeout(150)
    assert not opened.evaluate("document.querySelector('.ev-board').open")
    assert opened.evaluate("document.activeElement.dataset.act") == "board"


def test_the_board_has_a_scheme_of_its_own(opened: Any) -> None:
    opened.locator(f"{SOLUTION} >> [data-act=board]").click()
    colour = "getComputedStyle(document.querySelector('.ev-board')).backgroundColor"
    before = opened.evaluate(colour)
    opened.locator(".ev-board [data-act=scheme]").click()
    assert opened.evaluate(colour) != before


def test_ids_stay_unique_with_the_board_open(opened: Any) -> None:
    opened.locator(f"{SOLUTION} >> [data-act=board]").click()
    ids = opened.evaluate("[...document.querySelectorAll('[id]')].map(part => part.id)")
    assert len(ids) == len(set(ids))


def answered(page: Any, verdict: str) -> None:
    page.evaluate(
        "verdict => document.querySelector('.ev-problem').dispatchEvent(new CustomEvent('everyline:answer', {detail: {verdict}}))", verdict
    )


def kept(page: Any) -> dict[str, Any]:
    found = page.evaluate(
        "JSON.stringify(Object.fromEntries(Object.entries(localStorage).filter(([name]) => name.startsWith('everyline:'))))"
    )
    (value,) = json.loads(found).values()
    return json.loads(value)["below/ferry.md"]


def test_a_right_answer_is_noted_and_comes_back_later(look: Look) -> None:
    page = look(PROBLEM)
    answered(page, "wrong")
    first = kept(page)
    answered(page, "right")
    second = kept(page)
    assert (first["right"], second["right"], second["alone"], second["tries"]) == (False, True, True, 2)
    assert second["due"] > first["due"]


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("x^2/2 - 4x - 16 ln|x+4|", "slip"),
        ("x^3/3", "wrong-rise"),
        ("x^2/2 - 4x + 16 ln(x+4)", "undefined"),
        ("x^2/2 - 4x + 13 ln|x+4|", "wrong"),
    ],
)
def test_every_wrong_answer_that_is_typed_is_a_try(look: Look, text: str, verdict: str) -> None:
    """Whatever the box says of it: slips were once not noted."""
    page = look(PROBLEM)
    page.fill("#try-answer", text)
    page.press("#try-answer", "Enter")
    assert page.locator(".ev-box__said").get_attribute("data-verdict") == verdict
    assert (kept(page)["tries"], kept(page)["right"]) == (1, False)


def test_an_answer_after_a_hint_is_one_with_help(look: Look) -> None:
    page = look(PROBLEM)
    page.locator(".ev-hint >> summary >> nth=0").click()
    page.wait_for_timeout(50)
    answered(page, "right")
    assert (kept(page)["right"], kept(page)["alone"]) == (True, False)


def test_the_page_of_progress_counts_by_chapter_and_forgets_when_told(look: Look, address: str) -> None:
    page = look(PROBLEM)
    answered(page, "right")
    page.goto(f"{address}progress/")
    row = page.locator("tr[data-chapter='Under the line'] td")
    assert row.all_inner_texts()[1:] == ["1", "1", "1"]
    assert page.locator(".ev-progress__none").is_visible()
    page.evaluate(
        """() => { for (const name of Object.keys(localStorage)) {
            if (!name.startsWith('everyline:')) continue;
            const all = JSON.parse(localStorage[name]);
            for (const one of Object.values(all)) one.due = 1;
            localStorage[name] = JSON.stringify(all);
        } }"""
    )
    page.reload()
    page.locator(".ev-progress__due a").click()
    page.wait_for_url("**/below/ferry/")
    page.goto(f"{address}progress/")
    page.on("dialog", lambda dialog: dialog.accept())
    page.locator("[data-act=delete]").click()
    assert row.all_inner_texts()[1:] == ["0", "0", "0"]
    assert not page.evaluate("Object.keys(localStorage).some(name => name.startsWith('everyline:'))")


def test_without_a_script_the_page_says_that_nothing_is_noted(look: Look) -> None:
    page = look("progress/", script=False)
    assert page.locator(".ev-progress__off").is_visible()
    assert page.locator(".ev-progress__buttons").is_hidden()
