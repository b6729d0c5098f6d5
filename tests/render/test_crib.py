"""The teacher's sheet of a lesson: everything that the public page leaves out, in the order of the lesson."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from test_composed import sources

from everyline.book import Book, build
from everyline.cli import main
from everyline.derive.route import Line
from everyline.notation import Context, parse
from everyline.notation.message import Message
from everyline.notation.tree import Name
from everyline.render.crib import crib
from everyline.render.paper.markdown import markdown, text
from everyline.render.paper.model import Document
from everyline.render.paper.tex import tex
from everyline.render.paper.typst import source
from everyline.render.paper.written import written
from everyline.render.sheet import working


@pytest.fixture(scope="module")
def book() -> Book:
    return build(sources())


def test_a_crib_has_timing_questions_talking_points_keys_and_solutions(book: Book) -> None:
    said = text(crib(book.lessons[0], book))
    wanted = [
        "# Round the harbour", "For the teacher. 20 minutes.", "You need paper.", "## 0–12 min: A ferry by parts",
        "Ask first: What becomes simpler", "> The secret whisper.", "(3x - 2)*e^x + C", "Integration by parts",
        "## 12–17 min: Set: Low water", "(x^2 + 4)^6/2 + C", "## 17–20 min: Talk", "> Another whisper.",
    ]  # fmt: skip
    places = [said.index(part) for part in wanted]
    assert places == sorted(places), list(zip(wanted, places, strict=True))


@pytest.mark.parametrize(("form", "begins"), [("pdf", b"%PDF"), ("tex", b"\\documentclass"), ("md", b"# Round"), ("text", b"# Round")])
def test_a_crib_leaves_in_every_form(book: Book, form: str, begins: bytes) -> None:
    assert written(crib(book.lessons[0], book), form).startswith(begins)


WORKED_OUT = Line("differential", parse("2x", Context(names=frozenset("x"))), Message(""), None, Name("u"), variable="x")
BY_AN_AUTHOR = Line("form", parse(r"\int 2x dx", Context()), Message(""), None, parse(r"\int 1 du", Context()))


@pytest.mark.parametrize("line", [WORKED_OUT, BY_AN_AUTHOR], ids=["worked out", "by an author"])
@pytest.mark.parametrize(
    ("form", "shown"), [(text, "- du = 2x dx"), (markdown, r"$du = 2x\,dx$"), (tex, r"\quad du = 2x\,dx"), (source, "(d u = 2 x thin d x)")]
)
def test_a_line_between_differentials_has_no_integral_signs_on_paper(form: Callable[[Document], str], shown: str, line: Line) -> None:
    assert shown in form(Document("", (working("", [line], str),), "", ""))


def test_a_lesson_that_is_not_there_is_told_with_those_that_are(plant, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root = plant("content/lessons/harbour.md\n    ---\n    title: Harbour\n    ---\ncontent/book.yml\n    title: T\n")
    assert main(["crib", "nowhere", "--book", str(root / "content")]) == 2
    assert "this book has no lesson 'nowhere'; it has: harbour" in capsys.readouterr().err
    assert main(["crib", "harbour", "--format", "pdf", "--book", str(root / "content")]) == 2
    assert main(["crib", "harbour", "--book", str(root / "content")]) == 0
    assert "# Harbour" in capsys.readouterr().out


def test_a_file_that_is_there_is_kept_and_that_is_said_before_the_book_is_read(plant, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root = plant("monday.md\n    mine\n")
    assert main(["crib", "harbour", "--book", str(root / "content"), "--out", str(root / "monday.md")]) == 2
    assert "monday.md is there already" in capsys.readouterr().err
    assert (root / "monday.md").read_text(encoding="utf-8") == "mine\n"
