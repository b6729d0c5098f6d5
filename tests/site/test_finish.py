"""“Finish the solution” in a browser: one line is left out, then two; each is judged by the same means as the answer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

Look = Callable[..., Any]
FERRY = "below/ferry/"


def opened(look: Look) -> Any:
    """The page with its fold open and made ready, which a browser does a moment after the click."""
    page = look(FERRY)
    page.locator("#finish > summary").click()
    page.locator(".ev-gap__form").first.wait_for()
    return page


def fill(page: Any, number: int, text: str) -> str:
    form = page.locator(".ev-gap__form").nth(number)
    form.locator("input").fill(text)
    form.locator("input").press("Enter")
    words: str = form.locator("[role=status]").inner_text()
    return words


def test_the_last_line_is_left_out_then_the_last_two(look: Look) -> None:
    page = opened(look)
    assert page.locator(".ev-gap__form").count() == 1
    assert fill(page, 0, "x^2/2 - 4x + 4ln|x+4| + C").startswith("Not yet")
    assert page.locator(".ev-finish__work .ev-gap").count() == 1
    assert fill(page, 0, "x^2/2 - 4x + 16 ln|x+4| + C") == "Right."
    assert page.locator(".ev-finish__work .ev-line .ev-gap").count() == 0
    page.get_by_role("button", name="Leave out one line more").click()
    assert page.locator(".ev-gap__form").count() == 2
    assert page.evaluate("document.activeElement === document.querySelector('.ev-gap__form input')")


def test_a_line_can_be_shown_instead(look: Look) -> None:
    page = opened(look)
    page.get_by_role("button", name="Show this line").click()
    assert page.locator(".ev-finish__work .ev-line .ev-gap").count() == 0
    assert page.get_by_role("button", name="Leave out one line more").is_visible()


def test_the_solution_itself_stays_whole(look: Look) -> None:
    page = look(FERRY)
    assert page.locator(".ev-solution .ev-gap").count() == 0
    assert page.evaluate(
        "new Set([...document.querySelectorAll('[id]')].map(part => part.id)).size === document.querySelectorAll('[id]').length"
    )


def test_without_a_script_paper_does_it(look: Look) -> None:
    page = look(FERRY, script=False)
    page.locator("#finish > summary").click()
    assert "Cover the last line" in page.locator("#finish").inner_text()
    assert page.locator(".ev-gapped").first.is_hidden()
