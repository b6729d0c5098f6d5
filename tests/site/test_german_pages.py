"""Every page of a German book, word by word: what is seen, what is read aloud, and what the page hands to its script."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pypdf
import pytest
from german_book import BOOK, SETTINGS
from german_words import english, pieces
from small_book import mkdocs, write

#: Attributes that a person gets to see or to hear; `data-…` are sentences that the script says.
SAID = ("aria-label", "alt", "title", "placeholder", "content", "data-said", "data-sure", "alttext", "data-title")
#: Data for the script: JSON in which only some values are said.
DATA = ("data-say", "data-trial")
VOID = {"br", "hr", "img", "input", "link", "meta", "path", "use", "rect"}
#: What stands on pages in English for good: the theme's credit, whose licence asks for it, and the names of things.
NAMES = ("Made with", "Material for MkDocs", "harbour-lane/hafen", "CC BY 4.0", "Python", "python-flint")


def sentences(data: dict[str, Any]) -> list[str]:
    """What the script may say of its data: the messages of a box, or the sentences about slips (whose first entry is an id)."""
    return [text for _, *said in data["sentences"] for text in said] if "zones" in data else list(data.values())


class Words(HTMLParser):
    """The texts of a page, each with where it was found. What is marked as English (`lang="en"`) is left out, and so are addresses."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str]] = []
        self.open: list[tuple[str, bool]] = []
        self.language = ""

    @property
    def hidden(self) -> bool:
        return bool(self.open) and self.open[-1][1]

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        given = dict(attributes)
        if tag == "html":
            self.language = given.get("lang") or ""
        hidden = self.hidden or tag in ("script", "style", "annotation") or (tag != "html" and given.get("lang") == "en")
        if tag not in VOID:
            self.open.append((tag, hidden))
        if not hidden and not (tag == "meta" and given.get("name") not in ("description", "author")):
            self.found += [(name, given[name] or "") for name in SAID if given.get(name)]
            self.found += [(name, text) for name in DATA if given.get(name) for text in sentences(json.loads(given[name] or ""))]

    def handle_startendtag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attributes)
        if tag not in VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if data.strip() and not self.hidden:
            self.found.append((self.open[-1][0] if self.open else "", data.strip()))


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hafen")
    write(folder, BOOK, SETTINGS)
    done = mkdocs(folder, "build")
    assert done.returncode == 0, done.stderr
    return folder / "site"


@pytest.fixture(scope="module")
def read(site: Path) -> dict[str, Words]:
    """What is said on each page of the site."""
    pages = {}
    for file in sorted(site.rglob("*.html")):
        pages[file.relative_to(site).as_posix()] = words = Words()
        words.feed(file.read_text("utf-8"))
    return pages


def test_the_catalogue_is_looked_for() -> None:
    assert len(pieces()) > 600
    assert {" show the answer ", " of ", " lines every one proved ", " or "} <= set(pieces())


def test_the_book_has_a_page_of_every_kind(read: dict[str, Words]) -> None:
    kinds = ("index", "fluss/faehre/index", "topics/index", "sets/ebbe/index", "lessons/rundgang/index", "contrasts/klammern/index")
    about = ("formulas/index", "checked/index", "errata/index", "progress/index", "report/index", "404")
    assert {f"{name}.html" for name in (*kinds, *about)} <= set(read)


def test_every_page_says_that_it_is_german(read: dict[str, Words]) -> None:
    assert {words.language for words in read.values()} == {"de"}


@pytest.fixture(scope="module")
def texts(read: dict[str, Words], site: Path) -> dict[str, tuple[str, str]]:
    """Every text of pages and printed sheets, without names and `{named}` places, and one page and place where it stands."""
    left_out = re.compile("|".join((r"\{\w+\}", "`[^`]*`", *map(re.escape, NAMES))))
    found = [(text, page, place) for page, words in read.items() for place, text in words.found]
    for file in sorted(site.rglob("*.pdf")):
        sheets = (page.extract_text() for page in pypdf.PdfReader(file).pages)
        found += [(line, file.name, "line") for sheet in sheets for line in sheet.splitlines()]
    return {left_out.sub("", text): (page, place) for text, page, place in found}


def test_no_word_of_ours_is_left_in_english(texts: dict[str, tuple[str, str]]) -> None:
    assert len(texts) > 800
    assert [(found, text, where) for text, where in texts.items() if (found := english(text))] == []


def test_no_number_has_a_decimal_point(texts: dict[str, tuple[str, str]]) -> None:
    """Points stand between thousands, and in the versions of libraries."""
    other = re.compile(r"\d{1,3}(?:\.\d{3})+|\d+\.\d+\.\d+")
    assert {text: where for text, where in texts.items() if re.search(r"\d\.\d", other.sub("", text))} == {}


@pytest.mark.parametrize(
    ("page", "said"),
    [
        (
            "fluss/faehre/index.html",
            ["Bestimme die Stammfunktionen", "Tipp 1", "Ergebnis zeigen", "Lösungswege", "Stufe 2 von 3", "bewiesen"],
        ),
        ("fluss/spaeter/index.html", ["Das Ergebnis, die Tipps und die Lösungswege stehen hier ab dem 1. März 2097."]),
        ("fluss/schleuse/index.html", ["Gleiche Art, neue Zahlen"]),
        ("tabelle/zittern/index.html", ["R. Okafor steht dafür ein"]),
        ("tabelle/pegel/index.html", ["0,5", "1,5", "0,5625"]),
        ("errata/index.html", ["1. Mai 2026", "Diese Ausgabe: Zweite Ausgabe, 9. März 2026."]),
        ("report/index.html", ["Bericht für die Lehrkraft", "Nicht bewiesen"]),
        ("contrasts/klammern/index.html", ["Welche Methode braucht jede dieser Aufgaben, und woran erkennst du das?"]),
        ("fluss/index.html", ["Übung (PDF)", "Lösungen dazu", "Stufe 2: eine Methode wählen"]),
        ("index.html", ["Startseite", "Was „geprüft“ heißt", "Suche"]),
    ],
)
def test_what_a_page_says(read: dict[str, Words], page: str, said: list[str]) -> None:
    found = {text for _, text in read[page].found}
    assert [words for words in said if words not in found] == []
