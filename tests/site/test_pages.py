"""Pages as a reader meets them: in a browser, by keyboard, on a phone, on paper, without a script."""

from __future__ import annotations

import importlib.util
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

PROBLEM = "below/ferry/"
PAGES = (
    "",
    "below/",
    "below/ferry/",
    "below/wide/",
    "table/half/",
    "topics/",
    "checked/",
    "sets/",
    "sets/low-water/",
    "lessons/round-the-harbour/",
    "errata/",
    "report/",
    "progress/",
)
#: The kinds of pages that are not among those.
OTHER_KINDS = ("topics/division/", "formulas/", "manual/", "manual/key-wrong/")
Look = Callable[..., Any]


def open_folds(page: Any) -> None:
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")


@pytest.mark.parametrize("path", PAGES)
def test_a_page_is_readable_without_a_script(look: Look, path: str) -> None:
    page = look(path, script=False)
    assert page.locator("h1").first.is_visible()
    assert len(page.locator("article").inner_text()) > 40


def test_folds_open_without_a_script(look: Look) -> None:
    page = look(PROBLEM, script=False)
    answer = page.locator("#answer .ev-fold__body")
    assert not answer.is_visible()
    page.locator("#answer > summary").click()
    assert answer.is_visible()


@pytest.mark.parametrize("path", PAGES)
def test_a_small_phone_never_scrolls_sideways(look: Look, path: str) -> None:
    page = look(path, width=320)
    open_folds(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    outside = page.evaluate(
        """[...document.querySelectorAll('article *')].filter(part => {
            const box = part.getBoundingClientRect();
            return box.width && box.right > 321 && !part.closest('.ev-wide, .ev-row__formula, pre, .md-typeset__scrollwrap');
        }).map(part => part.outerHTML.slice(0, 80))"""
    )
    assert outside == []


def test_a_long_formula_scrolls_in_a_box_that_the_keyboard_reaches(look: Look) -> None:
    box = look("below/wide/", width=320).locator(".ev-question .ev-wide")
    assert box.evaluate("box => box.scrollWidth > box.clientWidth")
    box.focus()
    box.page.keyboard.press("ArrowRight")
    box.page.wait_for_function("box => box.scrollLeft > 0", arg=box.element_handle())


def test_a_formula_fades_only_at_the_side_where_more_of_it_is(look: Look) -> None:
    """A phone shows no scroll bar, and a formula cut off between two terms looks whole."""
    more = """box => ["before", "after"].map(side => parseFloat(getComputedStyle(box).getPropertyValue(`--ev-more-${side}`)) > 0)"""
    page = look("below/wide/", width=320)
    box = page.locator(".ev-question .ev-wide")
    assert box.evaluate(more) == [False, True]
    for left, sides in (("40", [True, True]), ("box.scrollWidth", [True, False])):
        box.evaluate(f"box => new Promise(done => {{ box.scrollLeft = {left}; requestAnimationFrame(() => requestAnimationFrame(done)) }})")
        assert box.evaluate(more) == sides
    fits = look(PROBLEM, width=320).locator(".ev-question .ev-wide")
    assert fits.evaluate("box => box.scrollWidth <= box.clientWidth")
    assert (fits.evaluate(more), fits.evaluate("box => getComputedStyle(box).maskImage")) == ([False, False], "none")


@pytest.mark.parametrize("width", [320, 1280])
def test_a_number_of_three_digits_stands_on_one_line_of_a_list(look: Look, width: int) -> None:
    number = look("below/", width=width).locator(".ev-row__number").first
    before = number.evaluate("number => number.offsetHeight")
    number.evaluate("number => { number.textContent = '128' }")
    assert number.evaluate("number => number.offsetHeight") == before


def test_a_phone_shows_every_column_of_the_progress(look: Look) -> None:
    heads = look("progress/", width=360).locator("article th[scope=col]")
    assert heads.count() == 5
    assert max(heads.evaluate_all("heads => heads.map(head => head.getBoundingClientRect().right)")) <= 360


@pytest.mark.parametrize("path", PAGES)
def test_the_first_key_leads_past_the_menu(look: Look, path: str) -> None:
    """WCAG 2.2, 2.4.1 Bypass Blocks, by technique G1: a link at the top of the page to its main content."""
    page = look(path)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.matches('.md-skip')")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('.md-content, .md-footer') !== null")


def test_every_fold_opens_by_keyboard(look: Look) -> None:
    page = look(PROBLEM)
    folds = page.locator("details").count()
    assert folds
    for number in range(folds):
        fold = page.locator("details").nth(number)
        fold.locator("> summary").focus()
        page.keyboard.press("Enter")
        assert fold.evaluate("fold => fold.open"), fold.get_attribute("id")


def test_tab_reaches_the_answer_and_shows_where_it_is(look: Look) -> None:
    page = look(PROBLEM)
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.closest('#answer') !== null"):
            break
    assert page.evaluate("document.activeElement.matches('#answer > summary')")
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"


@pytest.mark.parametrize("path", PAGES)
def test_nothing_is_asked_of_another_host(look: Look, address: str, path: str) -> None:
    page = look(path)
    assert page.asked
    assert [url for url in page.asked if not url.startswith((address, "data:", "blob:"))] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", [*PAGES, *OTHER_KINDS])
def test_the_accessibility_rules_find_no_fault(look: Look, path: str, scheme: str) -> None:
    """axe-core with all its rules for WCAG 2.2 A and AA and its best practices, every fold open."""
    package = importlib.util.find_spec("axe_playwright_python")
    assert package is not None
    assert package.submodule_search_locations
    page = look(path, scheme=scheme)
    assert page.evaluate("document.body.dataset.mdColorScheme") == {"light": "day", "dark": "night"}[scheme]
    open_folds(page)
    page.evaluate((Path(package.submodule_search_locations[0]) / "axe.min.js").read_text("utf-8"))
    faults = page.evaluate("axe.run(document).then(result => result.violations)")
    assert [(fault["id"], [node["html"][:160] for node in fault["nodes"]]) for fault in faults] == []


@pytest.mark.parametrize("opened", [False, True])
def test_paper_shows_only_the_folds_that_the_reader_opened(look: Look, opened: bool) -> None:
    page = look(PROBLEM)
    if opened:
        page.locator("#answer > summary").click()
        page.wait_for_function("document.querySelector('#answer').hasAttribute('data-kept')")
    page.emulate_media(media="print")
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    # What the theme does on paper: every fold is opened.
    open_folds(page)
    assert page.locator("#answer .ev-fold__body").is_visible() is opened
    assert not page.locator(".ev-solution").first.is_visible()
    assert page.locator(".ev-question math").is_visible()
    assert not page.locator(".md-header").is_visible()
    assert not page.locator(".ev-path").is_visible()


def test_paper_hides_answers_without_a_script_too(look: Look) -> None:
    page = look(PROBLEM, script=False)
    page.emulate_media(media="print")
    assert not page.locator("#answer").is_visible()
    assert page.locator(".ev-question math").is_visible()


def copied(page: Any, selector: str) -> str:
    page.evaluate(
        """selector => {
            const range = document.createRange();
            range.selectNodeContents(document.querySelector(selector));
            getSelection().removeAllRanges();
            getSelection().addRange(range);
        }""",
        selector,
    )
    page.keyboard.press("Control+c")
    text: str = page.evaluate("navigator.clipboard.readText()")
    return text


def test_a_copied_formula_is_latex(look: Look) -> None:
    text = copied(look(PROBLEM), ".ev-question math")
    assert re.sub(r"\s|\\,", "", text) == r"\int\frac{x^{2}}{x+4}dx"


def test_a_copied_sentence_keeps_its_words_around_the_latex(look: Look) -> None:
    page = look(PROBLEM)
    page.locator("#hint-1 > summary").click()
    assert copied(page, "#hint-1 .ev-fold__body") == "Divide first: $x^2 = (x+4)(x-4) + 16$."


def test_an_address_with_a_place_opens_its_fold(look: Look) -> None:
    page = look(f"{PROBLEM}#answer")
    assert page.locator("#answer .ev-fold__body").is_visible()


def test_the_mathematics_font_is_ours_and_brackets_stretch(look: Look) -> None:
    page = look(PROBLEM)
    assert page.evaluate("document.fonts.check('16px \"Everyline Math\"')")
    sign, whole = page.evaluate(
        """() => {
            const math = document.querySelector('.ev-question math');
            const sign = [...math.querySelectorAll('mo')].find(mo => mo.textContent === '∫');
            return [sign.getBoundingClientRect().height, parseFloat(getComputedStyle(math).fontSize)];
        }"""
    )
    assert sign > 1.8 * whole


def test_a_badge_leads_to_the_words_it_uses(look: Look) -> None:
    page = look(PROBLEM)
    page.locator(".ev-question .ev-badge").click()
    page.wait_for_url("**/checked/#proved")
    assert page.locator("#proved").inner_text() == "Proved"


def test_the_way_through_the_book(look: Look) -> None:
    page = look(PROBLEM)
    page.locator(".ev-neighbours a[rel=next]").click()
    page.wait_for_url("**/below/lock/**") if "lock" in page.url else page.wait_for_load_state()
    page.locator(".ev-path a").nth(1).click()
    page.wait_for_url("**/below/")
    assert page.locator(".ev-row").count() == 3


def test_the_search_knows_words_and_no_markup(built: Path) -> None:
    """An entry holds the title, the question in words and the topics: nothing of a formula's TeX or MathML."""
    entries = json.loads((built / "search" / "search_index.json").read_text("utf-8"))["docs"]
    found = [entry for entry in entries if entry["location"].startswith(PROBLEM)]
    assert len(found) == 1
    entry = found[0]
    assert entry["title"] == "A ferry that divides"
    assert re.sub(r"<[^>]*>", "", entry["text"]).strip().lower().startswith("integral of x squared")
    assert len(entry["text"]) <= 180
    assert entry["tags"]
    assert not [e for e in entries if "\\frac" in e["text"] or "<m" in e["text"]]


def test_a_page_says_in_words_what_it_asks(built: Path) -> None:
    """The description that a search engine shows."""
    page = (built / PROBLEM / "index.html").read_text("utf-8")
    assert re.findall(r'<meta name="description" content="([^"]*)"', page) == ["Integral of x squared over x plus 4"]


def test_problem_pages_stay_out_of_the_navigation(built: Path) -> None:
    home = (built / "index.html").read_text("utf-8")
    navigation = home[home.index('class="md-nav md-nav--primary') : home.index("<article")]
    assert "Under the line" in navigation
    assert "ferry" not in navigation
    assert 'class="md-nav' not in (built / PROBLEM / "index.html").read_text("utf-8")


def test_ids_are_unique_and_no_script_of_ours_is_inline(built: Path) -> None:
    for path in built.rglob("*.html"):
        text = path.read_text("utf-8")
        article = text[text.index("<article") : text.index("</article")]
        ids = re.findall(r'\sid="([^"]*)"', text)
        assert len(ids) == len(set(ids)), path
        assert "<script" not in article
        assert not re.search(r"\son[a-z]+=", re.sub(r"&[a-z]+;.*?(?=<)", "", article)), path


def test_nothing_but_the_site_is_published(built: Path) -> None:
    assert not list(built.rglob("book.yml"))
    assert (built / "assets" / "everyline" / "OFL.txt").is_file()
    assert (built / "assets" / "everyline" / "math.woff2").stat().st_size < 60_000
