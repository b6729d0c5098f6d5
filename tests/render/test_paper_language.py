"""What is printed speaks the book's language: sheets, keys, cribs and the formula sheet, in every form."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace

import pypdf
import pytest
from conftest import drawn

from everyline.book import Book, build
from everyline.book.sheets import Sheet, make_sheet, selection
from everyline.notation.tree import Name
from everyline.render.crib import crib
from everyline.render.formula_sheet import formula_document
from everyline.render.paper.markdown import markdown, text
from everyline.render.paper.model import Document, Maths, filled
from everyline.render.paper.pdf import pdf
from everyline.render.paper.tex import tex
from everyline.render.sheet import document, key_document
from everyline.source.load import load

TREE = r"""
book.yml
    title: Ebbe und Flut
    language: de
    edition: Erste Auflage
    dated: 2027-01-09
    license: CC BY 4.0
    log: natural
ebbe/index.md
    ---
    title: Partielle Integration
    order: 1
    ---
ebbe/boot.md
    ---
    question: \int (3x+1)e^{x} \, dx
    key: (3x-2)e^x + C
    title: Ein Boot
    hints: [Welcher Faktor wird einfacher?]
    ---
ebbe/mole.md
    ---
    question: \int x^n \, dx
    given: n > 0
    domain: x > 0
    key:
      - \frac{x^{n+1}}{n+1} + C
      - \frac{x \cdot x^n}{n+1} + C
    title: Eine Mole
    ---
ebbe/wand.md
    ---
    question: \int_0^2 \frac{7}{x^3} \, dx
    key: diverges
    title: Eine Wand
    ---
sets/watt.md
    ---
    title: Im Watt
    problems: [ebbe/boot, ebbe/wand]
    ---
lessons/hafen.md
    ---
    title: Im Hafen
    minutes: 20
    ---

    ```problem ebbe/boot
    minutes: 12
    predict: Was wird einfacher?
    say: Warten.
    ```

    ```set watt
    minutes: 5
    ```

    ```talk
    minutes: 3
    say: Zusammenfassen.
    ```
"""
#: Words that German has not, and that every English sheet has somewhere.
ENGLISH = re.compile(
    r"\b(?:the|of|and|is|with|where|every|key to|work out|find|date|ask|say|hint|talk|set|which|this|diverges)\b", re.IGNORECASE
)
FORMS: dict[str, Callable[[Document], str]] = {"md": markdown, "text": text, "tex": tex}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    folder = tmp_path_factory.mktemp("deutsch")
    for name, written in drawn(TREE).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(written, "utf-8")
    made = build(load(folder))
    assert made.sound, made.diagnostics
    return made


@pytest.fixture(scope="module")
def sheet(book: Book) -> Sheet:
    return make_sheet(book, *selection(book, ["ebbe"]), ("A", "B"), 1)


def pages(made: Document) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf(made))).pages)


def test_the_text_of_a_german_sheet(book: Book, sheet: Sheet) -> None:
    said = pages(document(sheet, book, key="full"))
    for part in (
        "Version A. Berechne jeweils.", "Name", "Datum", "für", "Partielle Integration: Lösungen zu Version B", "oder", "divergiert",
        "Dieser Faktor wird beim Ableiten einfacher.", "Ebbe und Flut · Erste Auflage",
    ):  # fmt: skip
        assert part in said, part
    assert ENGLISH.findall(said) == []


def test_one_kind_of_question_is_asked_for_as_its_page_does(book: Book) -> None:
    title, path, _ = selection(book, ["ebbe"])
    made = make_sheet(book, title, path, ["ebbe/boot.md"])
    assert "Bestimme die Stammfunktionen." in pages(document(made, book))
    assert "Partielle Integration: Lösungen" in pages(key_document(made, book))


def test_the_text_of_a_german_crib(book: Book) -> None:
    said = text(crib(book.lessons[0], book))
    wanted = [
        "# Im Hafen", "Für die Lehrkraft. 20 Minuten.", "## 0–12 min: Ein Boot", "Zuerst fragen: Was wird", "> Warten.", "Tipp: Welcher",
        "(3x - 2)*e^x + C", "Partielle Integration", "## 12–17 min: Übungsreihe: Im Watt", "divergiert", "## 17–20 min: Gespräch",
    ]  # fmt: skip
    places = [said.index(part) for part in wanted]
    assert places == sorted(places), list(zip(wanted, places, strict=True))
    assert ENGLISH.findall(said) == []


@pytest.mark.parametrize("form", FORMS)
def test_no_form_says_an_english_word(book: Book, sheet: Sheet, form: str) -> None:
    for made in (document(sheet, book, key="full"), crib(book.lessons[0], book), formula_document(book)):
        said = re.sub(r"\\(?:begin|end|text\w*|[a-z]+)\b", "", FORMS[form](made)).split(r"\setlength")[-1]
        assert ENGLISH.findall(said) == []


def test_the_formula_sheet_has_german_sections(book: Book) -> None:
    said = pages(formula_document(book))
    assert all(part in said for part in ("Formelsammlung", "Ableitungen", "Grenzwerte", "wobei"))


def test_an_austrian_book_is_german_and_an_unknown_language_stays_english(book: Book, sheet: Sheet) -> None:
    def first_line(language: str) -> str:
        other = replace(book, conventions=replace(book.conventions, language=language))
        return text(document(sheet, other)).splitlines()[2]

    assert first_line("de-AT") == "Version A. Berechne jeweils."
    assert first_line("tlh") == "Version A. Work out each of these."


def test_a_template_takes_formulas_wherever_the_language_has_them() -> None:
    x = (Maths(Name("x")),)
    assert filled("for {region}, always", region=x) == ("for ", *x, ", always")
    assert filled("{region}: immer", region=x) == (*x, ": immer")
