"""A German book in a browser: what the script says, how formulas are spoken, and that no page slips into English."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from small_book import mkdocs, write
from windows import one_window

BOOK = {
    "book.yml": "title: Ebbe und Flut\nlanguage: de\nlog: natural\nlicense: CC BY 4.0\n",
    "index.md": "---\ntitle: Ebbe und Flut\n---\n# Ebbe und Flut\n",
    "watt/index.md": "---\ntitle: Im Watt\norder: 1\n---\n",
    "watt/priel.md": """\
        ---
        question: \\int \\frac{x^2}{x+4} \\, dx
        key: \\frac{x^2}{2} - 4x + 16\\ln|x+4| + C
        ---
        """,
    "watt/deich.md": """\
        ---
        question: \\int (ax+b)^5 \\, dx
        key: \\frac{(ax+b)^6}{6a} + C
        title: Am Deich
        hints: [Was steht innen?]
        vary: {a: 2..7, b: 1..5}
        ---
        """,
    "watt/mauer.md": """\
        ---
        question: \\int_0^2 \\frac{7}{x^3} \\, dx
        key: diverges
        title: An der Mauer
        ---
        """,
    "sets/ebbe.md": "---\ntitle: Bei Ebbe\nproblems: [watt/priel, watt/mauer]\n---\n",
}  # fmt: skip
PRIEL, DEICH, MAUER, SET = "watt/priel/", "watt/deich/", "watt/mauer/", "sets/ebbe/"
#: Words that English cannot do without and that German does not have.
ENGLISH = re.compile(r"\b(?:the|of|and|is|are|with|where|which|every|this|that|to|your|from|question|answer|over)\b", re.IGNORECASE)
#: Everything that a reader sees or hears in the page's own part: texts, labels, spoken formulas, and the texts that a script will say.
SAID = """() => {
  for (const waiting of document.querySelectorAll('noscript')) waiting.outerHTML = waiting.textContent;
  return [...document.querySelectorAll('.md-content, .md-content *')].flatMap((each) => [
  ...['aria-label', 'alttext', 'title', 'placeholder', 'data-say', 'data-said', 'data-sure'].map((name) => each.getAttribute(name) ?? ''),
  ...[...each.childNodes].filter(({nodeType}) => nodeType === 3).map(({data}) => data),
]).filter((text) => text.trim());
}"""
Open = Callable[[str], Any]


@pytest.fixture(scope="module")
def german(tmp_path_factory: pytest.TempPathFactory, serve: Callable[[Path], str], browser: Any) -> Iterator[Open]:
    """Open a page of the German book."""
    folder = tmp_path_factory.mktemp("ebbe")
    write(folder, BOOK)
    done = mkdocs(folder, "build", "--strict")
    assert done.returncode == 0, done.stderr
    with one_window(browser, serve(folder / "site")) as at:
        yield at


#: (page, typed, verdict, what is said).
ANSWERS = [
    (PRIEL, "x^2/2 - 4x + 16 ln|x+4| + C", "right", r"Richtig"),
    (PRIEL, "x^2/2 - 4x + 16 ln|x+4|", "right", r"\+ C"),
    (PRIEL, "x^3/3 + C", "wrong-rise", r"[Nn]och nicht"),
    (PRIEL, "x^2/2 - 4x - 16 ln|x+4| + C", "slip", r"Vorzeichen"),
    (PRIEL, "x^2/", "unreadable", r"Die Formel bricht mittendrin ab\."),
    (PRIEL, "(x+1", "unreadable", r"„\(“ wird nicht geschlossen\."),
    (PRIEL, "y^2", "unreadable", r"„y“ ist hier nicht bekannt\."),
    (PRIEL, "sinn(x)", "unreadable", r"Meinst du sin\?"),
    (PRIEL, "e^2x", "ambiguous", r"zwei"),
    (PRIEL, "", "empty", r"zuerst|Schreib"),
    (MAUER, "divergiert", "right", r"Richtig"),
    (MAUER, "unendlich", "right", r"Richtig"),
]


@pytest.mark.parametrize(("path", "typed", "verdict", "words"), ANSWERS, ids=[row[1] or "nothing" for row in ANSWERS])
def test_the_box_answers_in_german(german: Open, path: str, typed: str, verdict: str, words: str) -> None:
    page = german(path)
    page.fill("#try-answer", typed)
    page.press("#try-answer", "Enter")
    said = page.locator(".ev-box__said")
    assert said.get_attribute("data-verdict") == verdict
    assert re.search(words, said.inner_text()), said.inner_text()
    assert ENGLISH.findall(said.inner_text()) == []


def test_what_was_read_is_spoken_in_german(german: Open) -> None:
    page = german(PRIEL)
    page.fill("#try-answer", "sqrt(x+4)/2")
    spoken = page.locator(".ev-box__spoken")
    page.wait_for_function("document.querySelector('.ev-box__spoken').textContent")
    assert spoken.inner_text().endswith("Bruch Wurzel aus x plus 4, Ende Wurzel durch 2, Ende Bruch")
    assert page.locator(".ev-box__seen math").get_attribute("alttext") in spoken.inner_text()


@pytest.mark.parametrize("typed", ["0,5x^2 - 4x + 16ln|x+4|", "0.5x^2 - 4x + 16ln|x+4|"])
def test_an_answer_with_decimals_is_shown_with_a_comma_however_it_was_typed(german: Open, typed: str) -> None:
    page = german(PRIEL)
    page.fill("#try-answer", typed)
    assert page.locator(".ev-box__seen mn").first.text_content() == "0,5"
    page.press("#try-answer", "Enter")
    assert page.locator(".ev-box__said").get_attribute("data-verdict") == "right"


def test_formulas_and_titles_are_spoken_in_german(german: Open) -> None:
    page = german(PRIEL)
    assert page.locator("h1").inner_text().startswith("Integral von x hoch 2 durch x plus 4")
    spoken = page.locator(".ev-question math").first.get_attribute("alttext")
    assert spoken == "Integral von Bruch x hoch 2 durch x plus 4, Ende Bruch nach dx"
    assert german(MAUER).locator("#answer math").first.text_content() == "divergiert"


def test_the_buttons_that_the_script_makes_are_german(german: Open) -> None:
    page = german(DEICH)
    page.get_by_role("button", name="Neue Zahlen").click()
    assert page.get_by_text(re.compile(r"^Aufgabe 2 von \d+$")).count()
    page.get_by_role("button", name="Zurück zur ersten Aufgabe").click()
    page = german(SET)
    for name in ("Vorige Aufgabe", "Nächste Aufgabe", "Alle zeigen"):
        assert page.get_by_role("button", name=name).count() == 1
    page.get_by_role("button", name="Alle zeigen").click()
    assert page.get_by_role("button", name="Eine nach der anderen").count() == 1


@pytest.mark.parametrize("path", ["", "watt/", PRIEL, DEICH, MAUER, SET, "formulas/", "progress/"])
def test_no_page_slips_into_english(german: Open, path: str) -> None:
    page = german(path)
    assert page.evaluate("document.documentElement.lang") == "de"
    said = page.evaluate(SAID)
    assert len(said) > 5
    assert [text for text in said if ENGLISH.search(text)] == []
