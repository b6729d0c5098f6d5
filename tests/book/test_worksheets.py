"""The worksheets that a book brings: two a chapter, one a set, mixed where they say so, without the key of what is withheld."""

from __future__ import annotations

import datetime

import pytest
from test_sets import sources

from everyline.book import Book, build
from everyline.book.interleave import neighbours_alike
from everyline.book.release import published
from everyline.book.sets import beginning
from everyline.book.worksheets import worksheets


@pytest.fixture(scope="module")
def book() -> Book:
    return build(sources({"sets/a.md": "---\ntitle: A\nproblems: [tides/parts-one, tides/inside]\n---\n"}))


def test_a_chapter_has_two_and_a_set_has_one(book: Book) -> None:
    made = worksheets(book)
    assert [(each.file, each.name, each.keyed) for each in made] == [
        ("sheets/tides-practice", "Practice", True),
        ("sheets/tides-mixed", "Mixed", True),
        ("sheets/set-a", "This set", True),
    ]
    known = {e.problem.path: e for e in book.examined}
    mixed = [beginning(known[item.path]) or "" for item in made[1].sheet.versions[0].items]
    assert len(mixed) == 4
    assert neighbours_alike(mixed) is None


def test_a_sheet_with_a_withheld_problem_has_no_key_before_its_day(book: Book) -> None:
    made = worksheets(published(book, datetime.date(2027, 2, 28)))
    assert {each.file: each.keyed for each in made} == {"sheets/tides-practice": False, "sheets/tides-mixed": True, "sheets/set-a": True}
    assert all(each.keyed for each in worksheets(published(book, datetime.date(2027, 3, 1))))
