"""`everyline sheet` as a teacher calls it: what is written where, and what is said when it cannot be."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from everyline.cli import main

BOOK = r"""
content/book.yml
    title: Tides
    log: natural
content/tides/index.md
    ---
    title: Tides
    order: 1
    ---
content/tides/ferry.md
    ---
    question: \int (3x+1)e^{x} \, dx
    key: (3x-2)e^x + C
    ---
content/tides/lock.md
    ---
    question: \int 6x(x^2+4)^5 \, dx
    key: \frac{(x^2+4)^6}{2} + C
    ---
content/tides/wrong.md
    ---
    question: \int (2x+7)^5 \, dx
    key: \frac{(2x+7)^6}{6} + C
    ---
content/tides/remarked.md
    ---
    question: \int \cot^2 \frac{x}{3} \, dx
    key: -3\cot\frac{x}{3} - x + C
    ---
content/sets/low.md
    ---
    title: Low water
    problems: [tides/ferry, tides/lock]
    ---
"""


@pytest.fixture
def book(plant) -> Path:  # type: ignore[no-untyped-def]
    return plant(BOOK)


def call(book: Path, *arguments: str) -> int:
    return main(["sheet", *arguments, "--book", str(book / "content"), "--workers", "1"])


def test_a_sheet_its_key_and_its_record_are_written_beside_each_other(book: Path) -> None:
    out = book / "monday.pdf"
    assert call(book, "tides/ferry", "tides/lock", "--versions", "A,B", "--key", "short", "--apart", "--out", str(out)) == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert (book / "monday-key.pdf").read_bytes().startswith(b"%PDF")
    before = out.read_bytes()
    assert call(book, "tides/lock", "--out", str(out)) == 2, "nothing is written over without being asked for"
    assert out.read_bytes() == before
    assert call(book, "tides/lock", "--out", str(book / "other.pdf")) == 0
    assert call(book, "tides/ferry", "tides/lock", "--versions", "A,B", "--out", str(out), "--replace") == 0
    assert [len(items) for items in json.loads((book / "monday.json").read_text("utf-8")).values()] == [2, 2]


def test_a_sheet_for_a_teachers_own_document_goes_to_the_screen(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert call(book, "tides/ferry", "--format", "md", "--key", "full", "--title", "Warm-up") == 0
    said = capsys.readouterr().out
    assert said.startswith("# Warm-up")
    assert r"$\int (3x + 1)e^{x}\,dx$" in said
    assert "Warm-up: key" in said


@pytest.mark.parametrize(("name", "begins"), [("a.md", b"# "), ("a.tex", rb"\documentclass"), ("a.PDF", b"%PDF")])
def test_a_sheet_has_the_form_that_its_name_says(book: Path, name: str, begins: bytes) -> None:
    assert call(book, "tides/ferry", "--out", str(book / name), "--replace") == 0
    assert (book / name).read_bytes().startswith(begins)


REFUSED = [
    (["tides/ferry"], 2, "a PDF needs a name"),
    (["nowhere", "--format", "md"], 2, "this book has no set, chapter or problem 'nowhere'"),
    (["tides/fery", "--format", "md"], 2, "no set, chapter or problem 'tides/fery'; did you mean tides/ferry?"),
    (["tides/ferry", "--out", "missing/x.pdf"], 2, "missing is not there; make it first"),
    (["tides/ferry", "--out", "monday.doc"], 2, "monday.doc: give a name that ends in one of .pdf, .tex, .md"),
    (["tides/wrong", "--format", "md"], 1, "tides/wrong.md:3:6"),
    (["tides", "--format", "md"], 1, "tides/wrong.md:3:6"),
]


@pytest.mark.parametrize(("arguments", "code", "said"), REFUSED, ids=[" ".join(row[0]) for row in REFUSED])
def test_what_cannot_be_printed_is_told_in_words(
    book: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, arguments: list[str], code: int, said: str
) -> None:
    monkeypatch.chdir(book)
    assert call(book, *arguments) == code
    caught = capsys.readouterr()
    assert said in caught.err + caught.out
    assert "Traceback" not in caught.err
    assert not list(book.glob("*.pdf"))


@pytest.mark.parametrize("versions", ["A,A", "A,,B", "", "A B"])
def test_versions_are_letters_each_once(book: Path, versions: str) -> None:
    with pytest.raises(SystemExit):
        call(book, "tides/ferry", "--versions", versions, "--out", "x.pdf")


def test_a_set_of_a_book_with_an_error_elsewhere_waits(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A set is picked from all that is right: while something is wrong, that is said first."""
    assert call(book, "low", "--format", "md") == 1
    said = capsys.readouterr().err
    assert "wrong.md" in said
    assert "remarked.md" not in said, "what need not be mended is no reason to wait"
    (book / "content" / "tides" / "wrong.md").unlink()
    assert call(book, "low", "--format", "md") == 0
    assert capsys.readouterr().out.startswith("# Low water")
