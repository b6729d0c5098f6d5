"""The teacher's report: counted from the book alone, the same in the terminal, on the page and as JSON."""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from pathlib import Path

import pytest
from conftest import drawn

from everyline.book import Book, Examined, build
from everyline.book.release import published
from everyline.book.report import Covered, Gap, Report, report
from everyline.cli import main
from everyline.diagnostics import diagnose
from everyline.diagnostics.kinds.internal import Internal
from everyline.diagnostics.kinds.out_of_time import OutOfTime
from everyline.notation import plain
from everyline.notation.message import Message, fill
from everyline.render.addresses import Addresses, Here
from everyline.render.report import PAGE, as_text, page_body
from everyline.source.load import Sources

PICTURE = """
one/index.md
    ---
    title: Term & term
    order: 1
    introduces: [sum, power, table]
    ---
one/cubes.md
    ---
    question: \\int (4x^3 + 6x) \\, dx
    key: x^4 + 3x^2 + C
    author: R. Okafor
    ---
one/again.md
    ---
    question: \\int (2t^3 + 3t) \\, dt
    key: \\frac{t^4}{2} + \\frac{3t^2}{2} + C
    source: own
    license: CC BY 4.0
    level: 2
    ---
one/early.md
    ---
    question: \\int x e^{4x} \\, dx
    key: \\frac{x}{4}e^{4x} - \\frac{1}{16}e^{4x} + C
    level: 3
    ---
two/index.md
    ---
    title: By parts
    order: 2
    introduces: [parts]
    ---
two/wrong.md
    ---
    question: \\int x \\cos 3x \\, dx
    key: x \\sin 3x + C
    source: own
    ---
"""


@pytest.fixture(scope="module")
def book() -> Book:
    files = {path: text.encode() for path, text in drawn(PICTURE).items()}
    chapters = {path: data for path, data in files.items() if path.endswith("index.md")}
    return build(Sources({path: data for path, data in files.items() if path not in chapters}, chapters, b"title: Small\n"))


@pytest.fixture(scope="module")
def found(book: Book) -> Report:
    return report(book)


def test_what_is_there_is_counted(found: Report) -> None:
    assert found.problems == 4
    assert dict(found.verdicts) == {"proved": 3, "enclosed": 0, "undecided": 0, "refuted": 1}
    assert (found.families, found.sets, found.lessons, found.interleaved_share) == (0, 0, 0, 0.0)
    assert Covered("one", "sum", 1, 1) in found.coverage
    assert [path for path, _ in found.seconds] == [path for path, _ in sorted(found.seconds, key=lambda pair: -pair[1])]


def test_what_is_missing_is_named(found: Report) -> None:
    first, second, why = found.near_duplicates[0]
    assert (first, second, len(found.near_duplicates)) == ("one/cubes.md", "one/again.md", 1)
    assert fill(why, plain) == "the same up to the name of the variable and the factor 0.5"
    assert [path for path, _ in found.untaught] == ["one/early.md"]
    assert "parts" in dict(found.untaught)["one/early.md"]
    assert found.missing == (("one/cubes.md", ("license",)), ("one/early.md", ("source", "license")), ("two/wrong.md", ("license",)))
    assert Gap("two", "parts", (1, 2, 3)) in found.gaps
    assert "squeeze" in found.unused


@pytest.mark.parametrize(("what", "said"), [("time", "ran out of time"), ("crash", "the checking stopped")])
def test_a_problem_that_was_not_checked_to_its_end_is_not_called_unreadable(book: Book, what: str, said: str) -> None:
    place = book.examined[0].problem.question.span
    fact = OutOfTime(place, 20.0, what) if what == "time" else Internal(place, "the process ended")
    stopped = Examined(book.examined[0].problem, None, diagnostics=(diagnose(fact),))
    assert report(replace(book, examined=(stopped,))).unproved == ((stopped.problem.path, Message(said)),)


def test_what_is_withheld_is_neither_counted_nor_told(book: Book) -> None:
    found = report(published(book, datetime.date(2027, 1, 1), answers=False))
    assert found.problems == 4
    assert {count for _, count in found.verdicts} == {0}
    assert (found.unproved, found.untaught, found.coverage) == ((), (), ())


def test_the_data_has_exactly_the_names_that_the_issue_gives(found: Report) -> None:
    data = json.loads(json.dumps(found.as_data()))
    assert list(data) == [
        "problems", "families", "contrasts", "sets", "lessons", "verdicts", "interleaved_share", "near_duplicates", "coverage", "untaught",
        "missing_source",
    ]  # fmt: skip
    assert list(data["verdicts"]) == ["proved", "enclosed", "undecided", "refuted"]
    assert {tuple(each) for each in data["coverage"]} == {("chapter", "technique", "level", "count")}
    assert data["near_duplicates"][0][:2] == ["one/cubes.md", "one/again.md"]
    assert data["untaught"] == ["one/early.md"]
    assert data["missing_source"] == ["one/cubes.md", "one/early.md", "two/wrong.md"]


def test_the_terminal_says_the_same(found: Report, book: Book) -> None:
    said = as_text(found, book)
    assert "Problems                     4 (0 of them families)" in said
    assert "3 proved, 1 wrong" in said
    assert "one/cubes.md and one/again.md: the same up to the name of the variable and the factor 0.5" in said
    assert "one/early.md: source and license missing" in said
    assert max(map(len, said.splitlines())) <= 100


def test_the_page_says_the_same_and_links_to_every_problem(found: Report, book: Book) -> None:
    page = page_body(found, book, Here(PAGE, Addresses()))
    assert '<a href="../one/early/">one/early.md</a>' in page
    assert "Term &amp; term" in page
    assert 'data-search-exclude="1"' in page


@pytest.mark.parametrize("words", [["report", "--format", "json"], ["report"]])
def test_the_command(words: list[str], plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant("content/book.yml\n    title: Nothing yet\n")
    monkeypatch.chdir(root)
    assert main(words) == 0
    said = capsys.readouterr().out
    assert json.loads(said)["problems"] == 0 if len(words) > 1 else "Problems " in said
    assert main(["report", "elsewhere"]) == 2
    assert capsys.readouterr().err.startswith("everyline: elsewhere is not the folder of a book. Go to")
