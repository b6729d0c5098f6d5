"""`everyline solve` speaks the language of the book that it is called in."""

from __future__ import annotations

from pathlib import Path

import pytest

from everyline.cli import main


@pytest.fixture
def german(plant, monkeypatch: pytest.MonkeyPatch) -> Path:  # type: ignore[no-untyped-def]
    root: Path = plant("content/book.yml\n    title: Ebbe\n    language: de\n    log: natural\n")
    monkeypatch.chdir(root)
    monkeypatch.setenv("COLUMNS", "100")
    return root


def test_a_question_is_worked_out_in_german(german: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["solve", r"\int x e^x \, dx", "--all"]) == 0
    assert main(["solve", r"\int (2 - x^3)^2 \, dx", "--all"]) == 0
    said = capsys.readouterr().out
    for part in ("Methode 1: Partielle Integration", "Dieser Faktor lässt sich integrieren.", "Was hier nicht hilft", "keine Konstante"):
        assert part in said, said
    assert "Method " not in said


def test_more_ways_and_words_that_are_answers_are_german(german: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["solve", r"\int_0^2 \frac{7}{x^3} \, dx"]) == 0
    said = capsys.readouterr().out
    assert "= divergiert" in said
    assert "diverges" not in said
    assert main(["solve", r"\int x \sqrt{x + 2} \, dx"]) == 0
    assert "weitere Wege: --all zeigt sie." in capsys.readouterr().out


def test_without_a_book_it_is_english(plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.chdir(plant("notes.txt\n    nothing\n"))
    assert main(["solve", r"\int 6x \, dx"]) == 0
    assert "Method 1: " in capsys.readouterr().out


def test_another_book_can_be_named(german: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (german / "english").mkdir()
    assert main(["solve", r"\int 6x \, dx", "--book", "english"]) == 0
    assert "Method 1: " in capsys.readouterr().out
