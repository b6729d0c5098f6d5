"""Families and contrasts as a student meets them: new numbers with a box of their own, solutions side by side or one above the other."""

from __future__ import annotations

import importlib.util
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from small_book import mkdocs, write

WAVE, ABOVE = "tides/wave/", "contrasts/above/"
FILES = {
    "book.yml": "title: Tides\nlog: natural\n",
    "index.md": "# Tides\n",
    "tides/index.md": "---\ntitle: Tides\norder: 1\n---\n",
    "tides/wave.md": """\
        ---
        question: \\int a\\cos(bx) \\, dx
        key: \\frac{a}{b}\\sin(bx) + C
        vary: {a: 2..6, b: 2..6, where: a != b}
        title: A wave
        hints: ["The inside grows $b$ times as fast."]
        ---

        The number in front is $a$.
        """,
    "tides/one.md": "---\nquestion: \\int \\frac{x}{x^2 + 49} \\, dx\nkey: \\frac12\\ln(x^2 + 49) + C\n---\n",
    "tides/two.md": "---\nquestion: \\int \\frac{1}{x^2 + 49} \\, dx\nkey: \\frac17\\arctan\\frac{x}{7} + C\n---\n",
    "contrasts/above.md": """\
        ---
        title: What is above
        point: Look above the line.
        prompt: Which of these?
        problems: [tides/one, tides/two]
        ---
        """,
}


@pytest.fixture(scope="module")
def tides(tmp_path_factory: pytest.TempPathFactory, serve: Callable[[Path], str]) -> str:
    folder = tmp_path_factory.mktemp("tides")
    write(folder, FILES)
    done = mkdocs(folder, "build", "--strict")
    assert done.returncode == 0, done.stderr
    return serve(folder / "site")


@pytest.fixture
def at(browser: Any, tides: str) -> Iterator[Callable[..., Any]]:
    contexts = []

    def open_page(path: str, *, width: int = 1280, script: bool = True, scheme: str = "light") -> Any:
        context = browser.new_context(viewport={"width": width, "height": 800}, java_script_enabled=script, color_scheme=scheme)
        contexts.append(context)
        page = context.new_page()
        page.goto(tides + path)
        page.wait_for_load_state("networkidle")
        return page

    yield open_page
    for context in contexts:
        context.close()


def asked(page: Any) -> str:
    return page.locator(".ev-question math").first.get_attribute("data-tex")


def answer(page: Any, text: str) -> str:
    page.fill("#try-answer", text)
    page.press("#try-answer", "Enter")
    return page.locator(".ev-box__said").get_attribute("data-verdict")


def key_of(tex: str) -> str:
    """`\\int a\\cos bx\\,dx` → a/b sin(bx) + C, by the rule of the table."""
    a, b = re.findall(r"\d+", tex)
    return f"({a}/{b})*sin({b}x) + C"


def test_new_numbers_bring_a_question_with_a_box_hints_and_an_answer_of_its_own(at: Callable[..., Any]) -> None:
    page = at(WAVE)
    first = asked(page)
    assert answer(page, key_of(first)) == "right"
    page.click("text=New numbers")
    second = asked(page)
    assert second != first
    assert page.locator(".ev-box__said").inner_text() == ""
    assert page.input_value("#try-answer") == ""
    assert answer(page, key_of(first)) != "right"
    assert answer(page, key_of(second)) == "right"
    a, b = re.findall(r"\d+", second)
    assert answer(page, f"{a}sin({b}x)/{b} + C") == "right"
    assert "another form" in page.locator(".ev-box__said").inner_text()
    assert page.locator(".ev-box__said a").count() == 0, "how forms are compared is shown for the first question only"
    assert page.locator("text=Question 2 of 16").is_visible()
    assert not page.locator(".ev-solutions").is_visible()
    dealt = page.locator(".ev-family__folds")
    assert dealt.locator("details").count() == 2
    dealt.locator("summary", has_text="Answer").click()
    assert dealt.locator("math").last.is_visible()
    page.click("text=Back to the first question")
    assert asked(page) == first
    assert page.locator(".ev-solutions").is_visible()
    assert answer(page, key_of(first)) == "right"


def test_every_question_of_the_family_is_dealt_once_in_a_round(at: Callable[..., Any]) -> None:
    page = at(WAVE)
    seen = [asked(page)]
    for _ in range(15):
        page.click("text=New numbers")
        seen.append(asked(page))
    assert len(set(seen)) == 16
    page.click("text=New numbers")
    assert asked(page) == seen[1]
    assert all(answer(page, key_of(seen[1])) == "right" for _ in range(2))


def test_without_a_script_the_others_are_a_list(at: Callable[..., Any]) -> None:
    page = at(WAVE, script=False)
    assert page.locator("text=New numbers").count() == 1  # the heading of the list
    page.locator("summary", has_text="15 more questions").click()
    assert page.locator(".ev-instance").count() == 15
    assert page.locator(".ev-instance math").first.is_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", [WAVE, ABOVE, "contrasts/"])
def test_anyone_can_use_the_pages(at: Callable[..., Any], path: str, scheme: str) -> None:
    """axe-core with all its rules, every fold open, after new numbers were dealt (Deque axe-core, WCAG 2.2 A and AA)."""
    package = importlib.util.find_spec("axe_playwright_python")
    if package is None or package.submodule_search_locations is None:
        pytest.skip("axe-core is not here")
    page = at(path, scheme=scheme)
    if path == WAVE:
        page.click("text=New numbers >> visible=true")
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    page.evaluate((Path(package.submodule_search_locations[0]) / "axe.min.js").read_text("utf-8"))
    faults = page.evaluate("axe.run(document).then(result => result.violations)")
    assert [(f["id"], [n["html"][:120] for n in f["nodes"]]) for f in faults] == []


def lefts(page: Any) -> list[float]:
    return [round(page.locator(f"#side-{n}").bounding_box()["x"]) for n in (1, 2)]


def test_solutions_stand_side_by_side_and_on_a_phone_one_above_the_other(at: Callable[..., Any]) -> None:
    page = at(ABOVE)
    page.locator("summary", has_text="Line by line").click()
    assert lefts(page)[0] < lefts(page)[1]
    starts = [box["y"] for box in (page.locator(".ev-line--start").nth(n).bounding_box() for n in (0, 1))]
    assert abs(starts[0] - starts[1]) < 2
    phone = at(ABOVE, width=320)
    phone.locator("summary", has_text="Line by line").click()
    assert lefts(phone)[0] == lefts(phone)[1]
    assert phone.evaluate("document.documentElement.scrollWidth") <= 320
