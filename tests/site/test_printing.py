"""A page on paper: what a reader opened and nothing else, begun on the page where its heading stands."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from typing import Any

from pypdf import PdfReader

Look = Callable[..., Any]
FERRY = "below/ferry/"


def printed(page: Any) -> list[str]:
    """The text of each sheet of A4."""
    return [sheet.extract_text() for sheet in PdfReader(BytesIO(page.pdf(format="A4"))).pages]


def test_a_page_is_printed_without_its_solutions(look: Look) -> None:
    text = "".join(printed(look(FERRY)))
    assert "Worked solutions" not in text
    assert "Differentiate" not in text


def test_what_is_open_is_printed_from_the_first_sheet_on(look: Look) -> None:
    page = look(FERRY)
    page.locator("details[id^=by-] > summary").first.click()
    page.wait_for_function("document.querySelector('details[id^=by-]').hasAttribute('data-kept')")
    first, *_ = printed(page)
    reason = page.locator("details[id^=by-] .ev-line__reason").first.inner_text()
    assert "Worked solutions" in first
    assert reason in " ".join(first.split())
    assert "Show the answer" not in first


def test_a_long_solution_begins_on_the_sheet_that_has_room_for_its_beginning(look: Look) -> None:
    page = look(FERRY)
    page.emulate_media(media="print")
    assert page.locator("details[id^=by-]").first.evaluate("fold => getComputedStyle(fold).breakInside") == "auto"
    assert page.locator(".ev-folds-title").first.evaluate("title => getComputedStyle(title).breakAfter") == "avoid"


def test_no_heading_ends_a_sheet(look: Look) -> None:
    page = look("formulas/")
    headings = page.locator("article h2").all_inner_texts()
    ends = [text.strip().rsplit("\n", 1)[-1] for text in printed(page)]
    assert len(headings) > 3
    assert not set(headings) & set(ends), ends


def test_paper_cuts_no_formula_of_a_list_and_leads_nowhere(look: Look) -> None:
    page = look("below/")
    page.set_viewport_size({"width": 718, "height": 1000})  # A4 less the margins that a browser leaves
    page.emulate_media(media="print")
    cut = "rows => rows.filter(row => row.scrollWidth > row.clientWidth || getComputedStyle(row).maskImage !== 'none').length"
    assert page.locator(".ev-row__formula").evaluate_all(cut) == 0
    page = look("sets/low-water/")
    page.emulate_media(media="print")
    assert not any(link.is_visible() for link in page.locator("article a").all())
