"""What the demo book has, shown by its own report: the counts that it was asked to have.

The book is taken from what earlier runs of this checkout have kept; what was not kept is examined here, which takes a minute.
"""

from __future__ import annotations

import json
import os
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock

from everyline.book import Book, build
from everyline.book.memory import memory_of
from everyline.book.report import report
from everyline.book.workers import Limits
from everyline.book.worksheets import worksheets
from everyline.derive.route import Line
from everyline.diagnostics import told
from everyline.source.contrasts import LOOK_ALIKES, TWO_METHODS
from everyline.source.load import load

pytestmark = pytest.mark.slow
CONTENT = Path(__file__).resolve().parents[2] / "content"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Book:
    """The whole demo book, examined by one process of a test run. A busy machine gets more time than a writer would wait."""
    base = tmp_path_factory.getbasetemp()
    with FileLock(f"{base if worker_id == 'master' else base.parent}/demo-book.lock"):
        return build(load(CONTENT), workers=min(2, os.cpu_count() or 1), limits=Limits(seconds=120), memory=memory_of(CONTENT))


@pytest.fixture(scope="module")
def counts(book: Book) -> dict[str, Any]:
    """What `everyline report --format json` prints."""
    made: dict[str, Any] = json.loads(json.dumps(report(book).as_data()))
    return made


def test_there_are_twelve_chapters_of_fifteen_problems_or_more_in_three_levels(book: Book, counts: dict[str, Any]) -> None:
    assert len(book.chapters) == 12
    found = {chapter.title: [e.problem.level for e in book.problems_of(chapter)] for chapter in book.chapters}
    assert {title: len(levels) for title, levels in found.items() if len(levels) < 15} == {}
    assert {title: sorted(set(levels)) for title, levels in found.items() if set(levels) != {1, 2, 3}} == {}
    assert counts["problems"] >= 180


def test_what_is_composed_of_them_is_there(book: Book, counts: dict[str, Any]) -> None:
    assert counts["families"] >= 12
    assert counts["contrasts"] >= 24
    assert [made.source.kind for made in book.contrasts].count(TWO_METHODS) >= 12
    assert all(made.same or made.between for made in book.contrasts if made.source.kind == TWO_METHODS)
    assert [made.source.kind for made in book.contrasts].count(LOOK_ALIKES) >= 12
    assert sum(made.mixed for made in book.sets) >= 8
    assert counts["lessons"] >= 6
    assert 0 < counts["interleaved_share"] <= 1


def test_there_are_two_worksheets_a_chapter_and_one_a_set_each_with_its_key(book: Book) -> None:
    made = worksheets(book)
    pages = [f"{chapter.folder}/index.md" for chapter in book.chapters]
    of_chapters = [each for each in made if each.sheet.path in pages]
    assert Counter(each.sheet.path for each in of_chapters) == dict.fromkeys(pages, 2)
    assert {each.name for each in of_chapters} == {"Practice", "Mixed"}
    assert len(made) - len(of_chapters) == len(book.sets)
    assert all(each.keyed and all(len(version.items) >= 6 for version in each.sheet.versions) for each in made)


def test_every_problem_has_a_hint_a_reason_in_words_and_a_title_of_its_own(book: Book) -> None:
    problems = [examined.problem for examined in book.examined]
    assert [problem.path for problem in problems if not problem.hints or not problem.prose.strip() or problem.title is None] == []
    titles = Counter(problem.title.value for problem in problems if problem.title is not None)
    assert [title for title, times in titles.items() if times > 1] == []


def test_every_key_stands(book: Book, counts: dict[str, Any]) -> None:
    assert [told(fault.headline) for fault in book.diagnostics if fault.severity == "error"] == []
    assert counts["verdicts"]["undecided"] == counts["verdicts"]["refuted"] == 0
    assert sum(counts["verdicts"].values()) == counts["problems"]
    assert counts["verdicts"]["enclosed"] <= 0.02 * counts["problems"]


def test_nothing_is_there_twice_untaught_or_without_a_source(book: Book, counts: dict[str, Any]) -> None:
    assert counts["near_duplicates"] == []
    assert counts["untaught"] == []
    assert counts["missing_source"] == []
    assert report(book).gaps == ()


#: Lines that only name something: what they name is used, and checked, in the lines after them.
NAMING = ("let", "differential")


def lines(of: Iterable[Line]) -> Iterator[Line]:
    for line in of:
        yield line
        yield from lines(line.detail)


def test_every_line_of_every_worked_solution_is_checked(book: Book) -> None:
    routes = [route for each in book.examined if each.derivation for route in each.derivation.routes]
    found = [line for route in routes for line in lines(route.lines)]
    found += [line for each in book.examined for solution in each.hand for line in lines(solution.lines)]
    assert len(found) > 1000
    assert [line for line in found if line.checked is None and line.kind not in NAMING] == []
