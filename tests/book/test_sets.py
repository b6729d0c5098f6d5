"""Sets and lessons in their book: what is dealt, what is refused and where, and what is withheld until its day."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from conftest import drawn

from everyline.book import Book, build
from everyline.book.interleave import neighbours_alike
from everyline.book.release import published, today
from everyline.book.sets import beginning, interleaved_share
from everyline.diagnostics import told
from everyline.source.load import Sources

TREE = r"""
tides/index.md
    ---
    title: Tides
    order: 1
    ---
tides/parts-one.md
    ---
    question: \int (3x+1)e^{x} \, dx
    key: (3x-2)e^x + C
    ---
tides/parts-two.md
    ---
    question: \int (2x+5)e^{2x} \, dx
    key: (x+2)e^{2x} + C
    ---
tides/inside.md
    ---
    question: \int 6x(x^2+4)^5 \, dx
    key: \frac{(x^2+4)^6}{2} + C
    level: 2
    ---
tides/divide.md
    ---
    question: \int \frac{x+5}{x+2} \, dx
    key: x + 3\ln|x+2| + C
    release: 2027-03-01
    hints: [Divide first.]
    ---

    A teacher's remark.
"""


def sources(more: dict[str, str] | None = None) -> Sources:
    files = {path: text.encode() for path, text in (drawn(TREE) | (more or {})).items()}
    composed = {path: data for path, data in files.items() if path.split("/")[0] in ("sets", "lessons")}
    chapters = {path: data for path, data in files.items() if path == "tides/index.md"}
    return Sources({p: d for p, d in files.items() if p not in composed and p not in chapters}, chapters, None, (), composed)


@pytest.fixture(scope="module")
def plain() -> Book:
    return build(sources())


def book_with(plain: Book, path: str, front: str, body: str = "") -> Book:
    return build(sources({path: f"---\n{front}\n---\n{body}"}), previous=plain)


def test_a_mixed_set_is_dealt_by_the_rule(plain: Book) -> None:
    book = book_with(plain, "sets/a.md", "title: A\ncount: 4")
    assert book.diagnostics == ()
    (made,) = book.sets
    known = {e.problem.path: e for e in book.examined}
    assert made.mixed
    assert len(set(made.problems)) == 4
    assert neighbours_alike([beginning(known[path]) or "" for path in made.problems]) is None
    assert interleaved_share(book.sets, book.examined) == 1.0


def test_a_plain_set_may_repeat_a_method_and_counts_for_nothing(plain: Book) -> None:
    book = book_with(plain, "sets/a.md", "title: A\nkind: plain\nproblems: [tides/parts-one, tides/parts-two]")
    assert book.diagnostics == ()
    assert book.sets[0].problems == ("tides/parts-one.md", "tides/parts-two.md")
    assert interleaved_share(book.sets, book.examined) == 0.0


REFUSED = [
    ("neighbours alike", "title: A\nproblems: [tides/parts-one, tides/parts-two]", "set-not-mixed", 3, 29, "as the one before it"),
    ("a page that is not there", "title: A\nproblems: [tides/parts-three]", "page-unknown", 3, 12, "no problem `tides/parts-three`"),
    ("a page in another chapter", "title: A\nproblems: [locks/inside]", "page-unknown", 3, 12, "no problem"),
    ("a chapter that is not there", "title: A\nchapters: [locks]\ncount: 2", "page-unknown", 3, 12, "no chapter `locks`"),
    ("too few", "title: A\ncount: 9", "set-too-small", 3, 8, "asks for 9 problems and only 4 fit"),
    ("too few of a level", "title: A\nlevels: [2]\ncount: 2", "set-too-small", 4, 8, "only 1 fits"),
    ("all alike", "title: A\ntechniques: [parts]\ncount: 2", "set-not-mixed", 4, 8, "begin with `parts`"),
]


@pytest.mark.parametrize("row", REFUSED, ids=[row[0] for row in REFUSED])
def test_a_set_that_cannot_be_made_is_told_at_its_place(plain: Book, row: tuple[str, str, str, int, int, str]) -> None:
    _, front, code, line, column, words = row
    book = book_with(plain, "sets/a.md", front)
    assert book.sets == ()
    (fault,) = book.diagnostics
    start = fault.labels[0].span.start
    assert (fault.code, fault.severity, start.line, start.column) == (code, "error", line, column)
    assert words in told(fault.headline)


def test_a_lesson_is_held_against_its_book(plain: Book) -> None:
    body = "```problem tides/nowhere\nminutes: 5\n```\n```problem tides/inside\nminutes: 6\n```\n"
    book = book_with(plain, "lessons/a.md", "title: A\nminutes: 10", body)
    told = [(d.code, d.severity, d.labels[0].span.start.line) for d in book.diagnostics]
    assert told == [("lesson-minutes", "warning", 3), ("page-unknown", "error", 5)]


def test_checking_a_set_alone_examines_what_it_needs() -> None:
    found = build(sources({"sets/a.md": "---\ntitle: A\ncount: 9\n---\n"}), only=["sets/a.md"])
    assert [d.code for d in found.diagnostics] == ["set-too-small"]


BEFORE, ON_THE_DAY = datetime.date(2027, 2, 28), datetime.date(2027, 3, 1)


def test_before_its_day_a_problem_is_its_question_and_nothing_else(plain: Book) -> None:
    early, later = ({e.problem.slug: e for e in published(plain, day).examined} for day in (BEFORE, ON_THE_DAY))
    held = early["divide"]
    assert held.withheld == "2027-03-01"
    assert held.question is not None
    assert (held.keys, held.derivation, held.checking, held.hand) == ((), None, (), ())
    assert (held.problem.keys, held.problem.hints, held.problem.prose, held.problem.blocks) == ((), (), "", ())
    assert later["divide"] == {e.problem.slug: e for e in plain.examined}["divide"]
    assert early["inside"].withheld is None


def test_with_answers_off_everything_is_withheld_for_good(plain: Book) -> None:
    held = published(plain, ON_THE_DAY, answers=False).examined
    assert all(e.withheld == "" and not e.keys and e.derivation is None for e in held)


def test_the_day_of_a_build_can_be_given() -> None:
    """SOURCE_DATE_EPOCH: reproducible-builds.org/specs/source-date-epoch, seconds since 1970-01-01T00:00Z."""
    assert today({"SOURCE_DATE_EPOCH": "1803859199"}) == datetime.date(2027, 2, 28)
    assert today({"SOURCE_DATE_EPOCH": "1803859200"}) == datetime.date(2027, 3, 1)
    assert today({}) == datetime.datetime.now(datetime.UTC).date()
    with pytest.raises(ValueError, match="whole number of seconds"):
        today({"SOURCE_DATE_EPOCH": "tomorrow"})


def test_only_one_place_asks_for_the_day() -> None:
    rooms = Path(build.__code__.co_filename).parents[1]
    clocks = (".today()", "datetime.now(", "strftime(")
    asking = {path.name for path in rooms.rglob("*.py") if any(clock in path.read_text("utf-8") for clock in clocks)}
    assert asking == {"release.py"}
