"""The answer box as a student meets it: in a browser, by keyboard, on a phone, on paper, without a script, from the disk."""

from __future__ import annotations

import functools
import gzip
import html
import http.server
import json
import re
import socket
import threading
from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from small_book import BOOK, SETTINGS, mkdocs, write
from windows import one_window

Look = Callable[..., Any]
AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")
FERRY, LOCK, HALF, STRIP, SLOPE, WALL = "below/ferry/", "below/lock/", "table/half/", "table/strip/", "table/slope/", "table/wall/"


def answer(page: Any, text: str) -> tuple[str, str]:
    """What the box makes of an answer: its verdict and its words."""
    page.fill("#try-answer", text)
    page.press("#try-answer", "Enter")
    said = page.locator(".ev-box__said")
    return said.get_attribute("data-verdict"), said.inner_text()


#: (page, answer, verdict, what it must be told): from the issue's list of messages, one row a message.
ANSWERS = [
    (FERRY, "x^2/2 - 4x + 16 ln|x+4| + C", "right", r"^Right\.$"),
    (FERRY, "F(x) = x²/2 − 4x + 16 ln|x+4| + C", "right", r"^Right\.$"),
    (FERRY, r"\frac{x^2}{2} - 4x + 16\ln|x+4| + k", "right", r"^Right\.$"),
    (FERRY, "16 ln|x+4| - 4x + x^2/2 + C", "right", r"^Right\.$"),
    (FERRY, "x^2/2 - 4x + 16 ln|x+4|", "right", r"Add \+ C"),
    (FERRY, "(x+4)^2/2 - 8(x+4) + 16 ln|x+4| + C", "right", r"another form[\s\S]*constant[\s\S]*24"),
    (FERRY, "x^2/2 - 4x + 16 ln|5x+20| + C", "right", "See how two forms are compared"),
    (FERRY, "x^2/2 - 4x + 16 ln(x+4) + C", "undefined", "no value at[\\s\\S]*absolute value"),
    (FERRY, "u^2/2 - 8u + 16 ln|u| + C", "letter", "put back"),
    (FERRY, "x^2/2 - 4x - 16 ln|x+4| + C", "slip", "sign"),
    (FERRY, "x^2/2 - 4x + 15.999 ln|x+4| + C", "decimal", "exact value"),
    (FERRY, "x^3/3 + C", "wrong-rise", "Take a hint"),
    (FERRY, "x^2/2 - 4x + 13 ln|x+4| + C", "wrong", "Only the factor of"),
    (FERRY, "x^2/", "unreadable", "stops in the middle"),
    (FERRY, "", "empty", "Write your answer"),
    (LOCK, "(2x+7)^6/3 + C", "slip", r"4\s*times the integrand[\s\S]*divided out"),
    (LOCK, "(2x+7)^6/12 + 99999999999999999 + C", "large", "too large"),
    (HALF, "sin x/cos x + C", "right", "another form"),
    (STRIP, "sqrt(3)", "right", r"^Right\.$"),
    (STRIP, "2 sin(2pi/3)", "right", "more simply"),
    (STRIP, "1.732", "decimal", "exact value"),
    (STRIP, "√3 + C", "value-constant", r"no \+ C"),
    (STRIP, "-sqrt 3", "slip", "limit"),
    (SLOPE, "x(2 sin 5x + 5x cos 5x)", "right", "another form"),
    (SLOPE, "10x cos 5x", "slip", "product"),
    (SLOPE, "2x sin 5x + x^2 cos 5x", "slip", "inside"),
    (WALL, "diverges", "right", r"^Right\.$"),
    (WALL, "∞", "right", r"^Right\.$"),
    (WALL, "-7/8", "slip", "without bound|at one limit only"),
]


@pytest.fixture(scope="module")
def opened(browser: Any, address: str) -> Iterator[Look]:
    """One window for many answers."""
    with one_window(browser, address) as at:
        yield at


@pytest.mark.parametrize(("path", "text", "verdict", "told"), ANSWERS)
def test_each_answer_has_its_own_message(opened: Look, path: str, text: str, verdict: str, told: str) -> None:
    found, words = answer(opened(path), text)
    assert found == verdict, words
    assert re.search(told, words.strip()), words


def test_another_form_leads_to_the_fold_that_has_it(opened: Look) -> None:
    """The second key is written so: the fold that brings it together with the worked solution is the one to look at."""
    page = opened(HALF)
    answer(page, "sin x/cos x + C")
    link = page.locator(".ev-box__said a")
    assert link.get_attribute("href") == "#different-1"
    link.click()
    assert "the same function" in page.locator("#different-1[open]").inner_text()


def test_what_was_typed_is_set_and_said_while_it_is_typed(opened: Look) -> None:
    page = opened(HALF)
    page.fill("#try-answer", "2tan(x/2)")
    assert page.locator(".ev-box__seen math").evaluate("math => math.querySelector('mfrac') !== null")
    spoken = page.locator(".ev-box__spoken[aria-live=polite]")
    page.wait_for_function("document.querySelector('.ev-box__spoken').textContent")
    assert spoken.text_content() == "Read as: 2 times tangent of open bracket x over 2 close bracket"
    page.fill("#try-answer", "2tan(x/")
    assert page.locator(".ev-box__seen").inner_text() == "not readable yet"


def test_two_readings_are_shown_and_asked_about(opened: Look) -> None:
    page = opened(FERRY)
    assert answer(page, "e^2x")[0] == "ambiguous"
    ways = page.locator(".ev-box__ways button")
    assert ways.count() == 2
    ways.first.click()
    assert page.locator(".ev-box__said").get_attribute("data-verdict") == "wrong-rise"
    assert page.input_value("#try-answer") in ("e^(2x)", "e^2*x")


def test_the_keypad_writes_symbols_and_puts_the_cursor_inside(opened: Look) -> None:
    page = opened(FERRY)
    page.fill("#try-answer", "")
    page.click("[data-put='sqrt(§)']")
    page.keyboard.type("x+1")
    assert page.input_value("#try-answer") == "sqrt(x+1)"
    page.evaluate("document.querySelector('#try-answer').setSelectionRange(5, 8)")
    page.click("[data-put='(§)/()']")
    assert page.input_value("#try-answer") == "sqrt((x+1)/())"


def test_an_answer_is_judged_within_a_twentieth_of_a_second(opened: Look) -> None:
    page = opened(FERRY)
    page.fill("#try-answer", "(x+4)^2/2 - 8(x+4) + 16 ln|x+4| + C")
    times = page.evaluate(
        """() => [1, 2, 3, 4, 5].map(() => {
            const start = performance.now();
            document.querySelector('.ev-box form').requestSubmit();
            return performance.now() - start;
        })"""
    )
    assert sorted(times)[2] < 50


def test_every_check_is_told_to_whoever_keeps_count(opened: Look) -> None:
    page = opened(LOCK)
    page.evaluate("document.addEventListener('everyline:answer', event => { window.told = event.detail; })")
    answer(page, "(2x+7)^6/12 + C")
    assert page.evaluate("told") == {"problem": "below/lock.md", "verdict": "right", "slip": ""}
    answer(page, "(2x+7)^6/3 + C")
    assert page.evaluate("told") == {"problem": "below/lock.md", "verdict": "slip", "slip": "inner-derivative-multiplied"}


def test_the_whole_box_works_by_keyboard(look: Look) -> None:
    page = look(FERRY)
    page.focus("#try-answer")
    page.keyboard.type("x^3/3 + C")
    page.keyboard.press("Enter")
    page.locator(".ev-box__said a").focus()
    page.keyboard.press("Enter")
    page.wait_for_function("document.querySelector('#hint-1').open")
    page.focus("#try-answer")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Check"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.ariaLabel") == "fraction a/b"  # WCAG 2.2, 2.5.3: the name holds the label


def test_without_a_script_the_page_says_how_to_check_by_hand(look: Look) -> None:
    page = look(FERRY, script=False)
    assert "differentiate it" in page.locator(".ev-box__plain").inner_text()
    assert not page.locator("#try-answer").is_visible()


def test_the_box_is_not_printed(look: Look) -> None:
    page = look(FERRY)
    page.emulate_media(media="print")
    assert not page.locator(".ev-box").is_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_message_fits_a_small_phone_and_can_be_read(look: Look, scheme: str) -> None:
    page = look(FERRY, width=320, scheme=scheme)
    answer(page, "x^2-8x+32 ln|x+4|+C")
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    keys = page.locator(".ev-box__key")
    smallest = keys.evaluate_all("keys => Math.min(...keys.flatMap(key => [key.offsetWidth, key.offsetHeight]))")
    assert smallest >= 24  # WCAG 2.2, 2.5.8 Target Size (Minimum): 24 by 24 CSS pixels


@pytest.mark.parametrize("text", ["x^2/2", "x^2/", "e^2x", "(x+4)^2/2 - 8(x+4) + 16 ln|x+4| + C"])
def test_what_is_said_comes_into_sight_above_the_keyboard_of_a_phone(look: Look, text: str) -> None:
    """The window that is left above such a keyboard; the field stands in its middle, as a phone puts it."""
    page = look(FERRY, width=360)
    page.set_viewport_size({"width": 360, "height": 420})
    page.locator("#try-answer").evaluate("field => field.scrollIntoView({block: 'center'})")
    answer(page, text)
    place = "(part => { const box = part.getBoundingClientRect(); return [box.top, box.bottom] })"
    top, bottom = page.locator(".ev-box__said").evaluate(place)
    assert 0 <= top < bottom <= 420


def test_what_is_said_of_a_gap_comes_into_sight(look: Look) -> None:
    page = look(FERRY, width=360)
    page.set_viewport_size({"width": 360, "height": 420})
    page.locator("#finish > summary").click()
    field = page.locator("#finish input").first
    field.evaluate("field => field.scrollIntoView({block: 'end'})")
    field.fill("x")
    field.press("Enter")
    assert page.locator("#finish [role=status]").first.evaluate("said => said.getBoundingClientRect().bottom") <= 420


def test_the_data_of_the_box_holds_no_key(built: Path) -> None:
    for path, key in ((FERRY, "16"), (STRIP, "sqrt(3)"), (WALL, "diverges"), (SLOPE, "cos(5x)")):
        page = (built / path / "index.html").read_text("utf-8")
        data = json.loads(html.unescape(re.findall(r"data-trial='([^']*)'", page)[0]))
        rest = {name: value for name, value in data.items() if name not in ("zones", "forms", "words", "traps")}
        assert key not in json.dumps(rest)
        assert all(isinstance(known, int) for known in (*data["forms"], *data["words"]))
        assert all(isinstance(value, float) for zone in data["zones"] for value in zone["values"])
        assert data["traps"]


def test_our_scripts_are_small(built: Path) -> None:
    """All together under 20 KB as gzip, which every host sends."""
    sizes = {path.name: len(gzip.compress(path.read_bytes(), 9, mtime=0)) for path in (built / "assets" / "everyline").glob("*.js")}
    assert sum(sizes.values()) < 20_000, sizes
    assert not [path for path in built.rglob("*.js") if "eval(" in path.read_text("utf-8") and path.name.startswith("everyline")]


def test_no_page_loads_a_script_but_ours_and_the_theme_s(built: Path) -> None:
    for path in built.rglob("*.html"):
        named = re.findall(r'<script[^>]*\bsrc="([^"]*)"', path.read_text("utf-8"))
        assert named
        assert all(re.search(r"(^|/)assets/(javascripts/bundle\.\w+\.min|everyline/everyline)\.js$", src) for src in named), path


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_accessibility_rules_find_no_fault_in_what_the_box_says(look: Look, scheme: str) -> None:
    """axe-core on a slip with its formulas, on two readings, on a gap to fill in and on a line that was asked."""
    page = look(FERRY, scheme=scheme)
    page.evaluate(AXE)
    page.locator("#finish > summary").click()
    page.locator("#find-the-slip > summary").click()
    page.locator("#find-the-slip .ev-line > details > summary").last.click()
    for text in ("x^2-8x+32 ln|x+4|+C", "e^2x", "x^2/2 - 4x + 16 ln|x+4|"):
        answer(page, text)
        faults = page.evaluate("axe.run(document).then(result => result.violations)")
        assert [(fault["id"], [node["html"][:160] for node in fault["nodes"]]) for fault in faults] == []


@pytest.fixture(scope="module")
def variant(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, str]]:
    """The small book for the disk (addresses end in `.html`) and with the theme's instant navigation, which needs its true address."""
    folder = tmp_path_factory.mktemp("variant")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    address = f"http://127.0.0.1:{port}/"
    write(folder, BOOK)
    settings = SETTINGS.replace("[navigation.prune]", "[navigation.prune, navigation.instant]")
    (folder / "mkdocs.yml").write_text(f"{settings}use_directory_urls: false\nsite_url: {address}\n", "utf-8")
    done = mkdocs(folder, "build", "--strict")
    assert done.returncode == 0, done.stderr

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_: Any) -> None:
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", port), functools.partial(Quiet, directory=str(folder / "site")))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield folder / "site", address
    server.shutdown()


def test_instant_navigation_does_not_break_the_box(variant: tuple[Path, str], browser: Any) -> None:
    page = browser.new_page()
    page.goto(f"{variant[1]}below/ferry.html")
    page.wait_for_load_state("networkidle")
    page.evaluate("window.kept = true")
    page.locator(".ev-neighbours a").first.click()
    page.wait_for_function("!document.querySelector('h1').textContent.includes('ferry')")
    assert page.evaluate("window.kept"), "the page was loaded anew: this is no instant navigation"
    assert answer(page, "x^")[0] == "unreadable"
    page.close()


def test_the_box_works_from_the_disk(variant: tuple[Path, str], browser: Any) -> None:
    page = browser.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.goto((variant[0] / "below" / "ferry.html").as_uri())
    assert answer(page, "x^2/2 - 4x + 16 ln|x+4| + C")[0] == "right"
    assert not [fault for fault in faults if "everyline" in fault]
    page.close()
