"""Sets, lessons and errata as files: what is read from them, and each fault at its line and column."""

from __future__ import annotations

import pytest

from everyline.source.lessons import Prose, Step, read_lesson
from everyline.source.paths import page_path
from everyline.source.reading import read_conventions
from everyline.source.sets import read_set

TECHNIQUES = {"substitution", "parts"}


def file(front: str, body: str = "") -> bytes:
    return f"---\n{front}\n---\n{body}".encode()


def test_a_set_picked_by_chapter_level_technique_count_and_seed() -> None:
    text = "title: Which inside?\nchapters: [tides, locks]\nlevels: [2, 3]\ntechniques: parts\ncount: 12\nseed: 7"
    read = read_set("sets/inside.md", file(text, "Take your time.\n"), TECHNIQUES)
    assert read.faults == ()
    found = read.found
    assert found is not None
    assert (found.title, found.slug, found.mixed) == ("Which inside?", "inside", True)
    assert [chapter.value for chapter in found.chapters] == ["tides", "locks"]
    assert (found.levels, [t.value for t in found.techniques], found.count, found.seed) == ((2, 3), ["parts"], 12, 7)
    assert found.prose == "Take your time."


def test_a_set_listed_by_hand_keeps_its_order() -> None:
    read = read_set("sets/hand.md", file("title: By hand\nkind: plain\nproblems: [b/two, a/one.md]"))
    assert read.found is not None
    assert [page_path(text.value) for text in read.found.problems] == ["b/two.md", "a/one.md"]
    assert not read.found.mixed


BAD_SETS = [
    ("no title", "count: 4", [("field-missing", 1, 1)]),
    ("neither problems nor a count", "title: T", [("field-missing", 2, 8)]),
    ("both problems and a count", "title: T\nproblems: [a/b]\ncount: 4", [("field-value", 4, 8)]),
    ("a count in words", "title: T\ncount: ten", [("field-missing", 2, 8), ("field-value", 3, 8)]),
    ("a count of one", "title: T\ncount: 1", [("field-value", 3, 8)]),
    ("a huge count", "title: T\ncount: 201", [("field-value", 3, 8)]),
    ("a level that is not there", "title: T\ncount: 4\nlevels: [2, 4]", [("field-value", 4, 13)]),
    ("an unknown technique", "title: T\ncount: 4\ntechniques: [part]", [("method-unknown", 4, 14)]),
    ("an unknown kind", "title: T\ncount: 4\nkind: mix", [("field-value", 4, 7)]),
    ("a misspelt field", "title: T\ncount: 4\nchapter: tides", [("field-unknown", 4, 1)]),
    ("HTML in a title", "title: <b>T</b>\ncount: 4", [("raw-html", 2, 8)]),
]


@pytest.mark.parametrize(("front", "faults"), [row[1:] for row in BAD_SETS], ids=[row[0] for row in BAD_SETS])
def test_a_bad_set_is_told_at_its_place(front: str, faults: list[tuple[str, int, int]]) -> None:
    read = read_set("sets/bad.md", file(front), TECHNIQUES)
    assert [(f.code, f.span.start.line, f.span.start.column) for f in read.faults] == faults


LESSON = """\
Bring yesterday's sheet.

```problem tides/ferry
minutes: 8
predict: Which part will be $u$?
say: Wait for two answers: do not take the first.
say: Ask who disagrees.
```

Then look back.

```talk
minutes: 2
```
"""


def test_a_lesson_is_prose_and_steps_in_order() -> None:
    read = read_lesson("lessons/ferries.md", file("title: Ferries\nminutes: 10", LESSON))
    assert read.faults == ()
    lesson = read.lesson
    assert lesson is not None
    first, step, between, talk = lesson.items
    assert first == Prose("Bring yesterday's sheet.")
    assert isinstance(step, Step)
    assert step.target is not None
    assert (step.kind, step.target.value, step.minutes) == ("problem", "tides/ferry", 8)
    assert [text.value for text in step.predict] == ["Which part will be $u$?"]
    assert [text.value for text in step.say] == ["Wait for two answers: do not take the first.", "Ask who disagrees."]
    assert between == Prose("Then look back.")
    assert isinstance(talk, Step)
    assert (talk.kind, talk.target, talk.minutes) == ("talk", None, 2)


BAD_LESSONS = [
    ("a misspelt step", "```problm a/b\n```\n", [("lesson-step", 4, 4)]),
    ("a step without its page", "```problem\nminutes: 3\n```\n", [("lesson-line", 4, 4)]),
    ("a line that is no field", "```talk\nask them first\n```\n", [("lesson-line", 5, 1)]),
    ("an unknown field", "```talk\nminute: 3\n```\n", [("field-unknown", 5, 1)]),
    ("a field that says nothing", "```talk\nsay:\n```\n", [("field-empty", 5, 1)]),
    ("minutes in words", "```talk\nminutes: five\n```\n", [("field-value", 5, 10)]),
    ("no minutes at all", "```talk\nminutes: 0\n```\n", [("field-value", 5, 10)]),
    ("a step that never ends", "```talk\nminutes: 3\n", [("lines-unclosed", 4, 1)]),
    ("HTML in what is said", "```talk\nsay: <b>Now</b>\n```\n", [("raw-html", 5, 6), ("raw-html", 5, 12)]),
    ("HTML in the prose", "<script>x</script>\n", [("raw-html", 4, 1), ("raw-html", 4, 10)]),
    ("a link that leaves the book", "[out](../../etc)\n", [("link-refused", 4, 7)]),
]


@pytest.mark.parametrize(("body", "faults"), [row[1:] for row in BAD_LESSONS], ids=[row[0] for row in BAD_LESSONS])
def test_a_bad_lesson_is_told_at_its_place(body: str, faults: list[tuple[str, int, int]]) -> None:
    read = read_lesson("lessons/bad.md", file("title: Bad", body))
    assert [(f.code, f.span.start.line, f.span.start.column) for f in read.faults] == faults


def test_other_blocks_of_a_lesson_are_prose() -> None:
    read = read_lesson("lessons/code.md", file("title: Code", "```\nx = 1\n```\n"))
    assert read.faults == ()
    assert read.lesson is not None
    assert read.lesson.items == (Prose("```\nx = 1\n```"),)


def test_errata_and_the_day_of_an_edition() -> None:
    text = (
        b"edition: Second\ndated: 2027-01-09\naddress: https://example.org/book\nerrata:\n  - 2027-01-12 tides/ferry A sign in the key.\n"
    )
    read = read_conventions("book.yml", text)
    assert read.faults == ()
    found = read.conventions
    assert (found.dated, found.address) == ("2027-01-09", "https://example.org/book/")
    assert [(e.day, e.page, e.said) for e in found.errata] == [("2027-01-12", "tides/ferry.md", "A sign in the key.")]


@pytest.mark.parametrize("item", ["tides/ferry A sign.", "2027-13-01 tides/ferry A sign.", "2027-01-12 tides/ferry", "2027-01-12 A sign."])
def test_an_erratum_says_when_where_and_what(item: str) -> None:
    faults = read_conventions("book.yml", f"errata:\n  - {item}\n".encode()).faults
    assert [(f.code, f.span.start.line, f.span.start.column) for f in faults] == [("field-value", 2, 5)]
