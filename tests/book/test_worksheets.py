"""The worksheets that a book brings: two a chapter, one a set, mixed where they say so, without the key of what is withheld."""

from __future__ import annotations

import datetime
import json

import pytest
from test_sets import sources

from everyline.book import Book, build
from everyline.book.interleave import neighbours_alike
from everyline.book.release import published
from everyline.book.sets import beginning
from everyline.book.sheets import make_sheet, record
from everyline.book.worksheets import worksheets
from everyline.kernel import Checked


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


FAMILY = r"""---
question: \int (ax + b)e^{x} \, dx
key: (ax + b - a)e^x + C
vary:
  a: 2..7
  b: 1..9
title: A line and an exponential
---
"""


def test_versions_take_a_familys_next_numbers_and_every_key_of_them_is_proved() -> None:
    families = build(sources({"tides/family.md": FAMILY}))
    assert [d.code for d in families.diagnostics if d.severity == "error"] == []
    sheet = make_sheet(families, "F", "", ["tides/family.md", "tides/inside.md"], ("A", "B", "C"), 4)
    asked = {version.label: next(item for item in version.items if item.path == "tides/family.md") for version in sheet.versions}
    assert len({item.question for item in asked.values()}) == 3
    assert len({item.values for item in asked.values()}) == 3
    for item in asked.values():
        assert all(isinstance(verdict.outcome, Checked) and verdict.outcome.grade == "proved" for verdict in item.keys)
        assert item.routes
    quick = make_sheet(families, "F", "", ["tides/family.md"], ("A", "B"), 4, worked=False)
    assert [version.items[0].keys for version in quick.versions] == [asked["A"].keys, quick.versions[1].items[0].keys]
    assert quick.versions[1].items[0].question == asked["B"].question
    said = json.loads(record(sheet))
    assert {version: dict(asked[version].values) for version in said} == {v: next(n for p, n in said[v] if "family" in p) for v in said}
