"""Families and contrasts as a student meets them: new numbers with a box of their own, solutions side by side or one above the other."""

from __future__ import annotations

import importlib.util
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from small_book import mkdocs, write

WAVE, SWELL, LATER, ABOVE = "tides/wave/", "tides/swell/", "tides/later/", "contrasts/above/"
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
    "tides/swell.md": """\
        ---
        question: \\int (x + b)e^{ax} \\, dx
        key: \\left(\\frac{x + b}{a} - \\frac{1}{a^2}\\right)e^{ax} + C
        vary: {a: 2..6, b: 1..6}
        title: A swell
        methods: [parts]
        ---
        """,
    "tides/later.md": """\
        ---
        question: \\int (x + b)\\cos(ax) \\, dx
        key: \\frac{x + b}{a}\\sin(ax) + \\frac{1}{a^2}\\cos(ax) + C
        vary: {a: 2..6, b: 1..6}
        title: A later swell
        release: 2999-01-01
        hints: ["Take $x + b$ for the part that is differentiated."]
        ---
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
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("tides")
    write(folder, FILES)
    done = mkdocs(folder, "build", "--strict")
    assert done.returncode == 0, done.stderr
    return folder / "site"


@pytest.fixture(scope="module")
def tides(site: Path, serve: Callable[[Path], str]) -> str:
    return serve(site)


@pytest.fixture
def at(browser: Any, tides: str) -> Iterator[Callable[..., Any]]:
    contexts = []

    def open_page(path: str, *, width: int = 1280, script: bool = True, scheme: str = "light", base: str = tides) -> Any:
        context = browser.new_context(viewport={"width": width, "height": 800}, java_script_enabled=script, color_scheme=scheme)
        contexts.append(context)
        page = context.new_page()
        page.goto(base + path)
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
    folds = ["Hint 1", "Answer", "Linear inside, question 2\n1 line, proved", "Find the slip\none line is wrong"]
    assert dealt.locator("> * > details > summary").all_inner_texts() == folds
    dealt.locator("summary", has_text="Answer").click()
    assert dealt.locator(".ev-answer math").is_visible()
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
    assert page.locator(".ev-family__row").count() == 0
    page.locator("summary", has_text="15 more questions").click()
    assert page.locator(".ev-instance").count() == 15
    assert page.locator(".ev-instance math").first.is_visible()
    page.locator("summary", has_text="question 7").click()
    assert page.locator("#family-7-worked .ev-line math").last.is_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", [WAVE, SWELL, ABOVE, "contrasts/"])
def test_anyone_can_use_the_pages(at: Callable[..., Any], path: str, scheme: str) -> None:
    """axe-core with all its rules, every fold open, after new numbers were dealt (Deque axe-core, WCAG 2.2 A and AA)."""
    package = importlib.util.find_spec("axe_playwright_python")
    if package is None or package.submodule_search_locations is None:
        pytest.skip("axe-core is not here")
    page = at(path, scheme=scheme)
    if path in (WAVE, SWELL):
        page.click("text=New numbers >> visible=true")
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    page.evaluate((Path(package.submodule_search_locations[0]) / "axe.min.js").read_text("utf-8"))
    faults = page.evaluate("axe.run(document).then(result => result.violations)")
    assert [(f["id"], [n["html"][:120] for n in f["nodes"]]) for f in faults] == []


def swell(tex: str) -> tuple[int, int]:
    """The letters a and b of `\\int (x + b)e^{ax}\\,dx`."""
    found = re.search(r"x \+ (\d+).*e\^\{(\d+) ?x\}", tex)
    assert found, tex
    return int(found[2]), int(found[1])


def unfold(page: Any, name: str) -> Any:
    """A fold of the dealt question, opened from the keyboard."""
    fold = page.locator(".ev-family__folds > * > details").filter(has=page.locator("> summary", has_text=name))
    fold.locator("> summary").press("Enter")
    return fold


def test_new_numbers_bring_a_worked_solution_to_finish_and_one_with_a_slip(at: Callable[..., Any]) -> None:
    page = at(SWELL, width=320)
    page.locator(".ev-family__row button").first.press("Enter")
    a, b = swell(asked(page))
    worked = unfold(page, "Integration by parts, question 2")
    lines = worked.locator(".ev-lines > li")
    assert lines.first.locator("math").get_attribute("data-tex") == asked(page)
    assert f"e^{{{a} x}}" in lines.last.locator("math").first.get_attribute("data-tex").replace(f"{a}x", f"{a} x")
    worked.locator("[data-act=step]").press("Enter")
    assert lines.locator("visible=true").count() == 1
    worked.locator("[data-act=step]").press("Enter")

    finish = unfold(page, "Finish the solution")
    form = finish.locator(".ev-gap__form")
    for answer_, said in ((f"(x+{b})/{a}*e^({a}x) + C", "Not yet"), (f"(x+{b})/{a}*e^({a}x) - 1/{a}^2*e^({a}x) + C", "Right.")):
        form.locator("input").fill(answer_)
        form.locator("input").press("Enter")
        assert form.locator("[role=status]").inner_text().startswith(said)
    assert finish.get_by_role("button", name="Leave out one line more").is_visible()

    hunt = unfold(page, "Find the slip")
    asking = hunt.locator("summary", has_text="Is it this line?")
    said = []
    for number in range(asking.count()):
        asking.nth(number).press("Enter")
        said.append(hunt.locator("details[open] .ev-fold__body").last.inner_text())
    assert [text.startswith("Yes") for text in said].count(True) == 1
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map(part => part.id)")
    assert len(ids) == len(set(ids))


def test_the_solutions_of_other_numbers_are_no_part_of_the_page_before_they_are_wanted(at: Callable[..., Any]) -> None:
    page = at(SWELL)
    assert page.locator(".ev-instances .ev-solution").count() == 0
    page.locator("summary", has_text="15 more questions").press("Enter")
    assert page.locator(".ev-instances .ev-solution").count() == 15
    assert page.locator(".ev-instances .ev-hunt").count() == 15
    assert page.locator(".ev-instances .ev-pace:not([hidden])").count() == 15


def on_board(page: Any) -> str:
    return page.locator(".ev-board .ev-line--start math").get_attribute("data-tex")


@pytest.mark.parametrize("where", ["served", "from the disk"])
def test_the_board_goes_on_with_new_numbers(at: Callable[..., Any], site: Path, where: str) -> None:
    """By keyboard alone: N brings the next question, its lines wait as those of the first one did."""
    page = at(SWELL) if where == "served" else at(f"{SWELL}index.html", base=f"{site.as_uri()}/")
    page.locator(".ev-solution > summary").first.press("Enter")
    page.locator("[data-act=board]").first.press("Enter")
    seen = [on_board(page)]
    for _ in range(15):
        page.keyboard.press("ArrowRight")
        page.keyboard.press("n")
        lines = page.locator(".ev-board section > .ev-lines > li")
        assert [line.get_attribute("data-wait") for line in lines.all()] == [None] + ["all"] * (lines.count() - 1)
        seen.append(on_board(page))
    assert len(set(seen)) == 16
    page.locator(".ev-board [data-act=numbers]").press("Enter")
    assert on_board(page) == seen[0]
    while page.locator(".ev-board [data-wait]").count():
        page.keyboard.press("ArrowRight")
    page.locator(".ev-board [data-act=close]").press("Enter")
    assert page.evaluate("document.activeElement.dataset.act") == "board"


def test_a_board_without_other_numbers_does_not_offer_them(at: Callable[..., Any]) -> None:
    page = at("tides/one/")
    assert page.locator(".ev-board [data-act=numbers]").count() == 0


def test_before_its_day_a_family_is_one_question_and_nothing_of_the_others(site: Path, at: Callable[..., Any]) -> None:
    html = (site / LATER / "index.html").read_text("utf-8")
    for part in ("ev-instance", "noscript", "ev-solution", "data-trial", "ev-hunt", "ev-finish", "Take ", "\\sin", "sin("):
        assert part not in html, part
    assert at(LATER).locator("text=2999").count() == 1


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
