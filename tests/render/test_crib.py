"""The teacher's sheet of a lesson: everything that the public page leaves out, in the order of the lesson."""

from __future__ import annotations

import pytest
from test_composed import sources

from everyline.book import Book, build
from everyline.cli import main
from everyline.render.crib import crib
from everyline.render.paper.markdown import text
from everyline.render.paper.written import written


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


def test_a_lesson_that_is_not_there_is_told_with_those_that_are(plant, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root = plant("content/lessons/harbour.md\n    ---\n    title: Harbour\n    ---\ncontent/book.yml\n    title: T\n")
    assert main(["crib", "nowhere", "--book", str(root / "content")]) == 2
    assert "this book has no lesson 'nowhere'; it has: harbour" in capsys.readouterr().err
    assert main(["crib", "harbour", "--format", "pdf", "--book", str(root / "content")]) == 2
    assert main(["crib", "harbour", "--book", str(root / "content")]) == 0
    assert "# Harbour" in capsys.readouterr().out
