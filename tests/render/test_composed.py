"""Sets, lessons, errata and withheld answers as pages: what is shown, and what is not."""

from __future__ import annotations

import datetime
import re

import pytest
from conftest import drawn
from made import page

from everyline.book import Book, build
from everyline.book.release import published
from everyline.render.site import Site, site
from everyline.source.load import Sources

TREE = r"""
tides/index.md
    ---
    title: Tides
    order: 1
    ---
tides/ferry.md
    ---
    question: \int (3x+1)e^{x} \, dx
    key: (3x-2)e^x + C
    title: A ferry by parts
    ---
tides/lock.md
    ---
    question: \int 6x(x^2+4)^5 \, dx
    key: \frac{(x^2+4)^6}{2} + C
    title: Substitute at the lock
    release: 2027-03-01
    hints: [The herring hint.]
    author: R. Okafor
    ---

    The herring remark.

    ```lines
    = \frac{(x^2+4)^6}{2} + C ; the herring reason
    ```
sets/tide.md
    ---
    title: Low water
    problems: [tides/ferry, tides/lock]
    ---

    Take $10$ minutes.
lessons/harbour.md
    ---
    title: Round the harbour
    minutes: 20
    ---

    You need **paper**.

    ```problem tides/ferry
    minutes: 12
    predict: What becomes simpler when you differentiate it?
    say: The secret whisper.
    ```

    ```set tide
    minutes: 5
    ```

    ```talk
    minutes: 3
    say: Another whisper.
    ```
book.yml
    title: Tides and timetables
    edition: Second edition
    dated: 2027-01-09
    errata:
      - 2027-01-10 tides/lock The $6$ had been a 5.
      - 2027-02-12 tides/ferry A sign in the key.
"""


def sources() -> Sources:
    files = {path: text.encode() for path, text in drawn(TREE).items()}
    chapters = {"tides/index.md": files.pop("tides/index.md")}
    conventions = files.pop("book.yml")
    problems = {path: data for path, data in files.items() if path.startswith("tides/")}
    return Sources(problems, chapters, conventions, (), {path: data for path, data in files.items() if path not in problems})


@pytest.fixture(scope="module")
def book() -> Book:
    made = build(sources())
    assert made.diagnostics == ()
    return made


@pytest.fixture(scope="module")
def made(book: Book) -> Site:
    return site(book, sources())


def words(html: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def test_a_set_shows_questions_and_answers_and_no_titles(made: Site) -> None:
    body = page(made, "sets/tide.md").body
    assert body.index("Question 1 of 2") < body.index("Question 2 of 2")
    assert "A ferry by parts" not in words(body)
    assert "Substitut" not in words(body)
    assert body.count("ev-answer") == 2
    assert "../../tides/ferry/" in body
    assert "Take <math" in body
    assert page(made, "sets/tide.md").tags == ()


def test_the_front_page_says_how_much_of_the_practice_is_mixed(made: Site) -> None:
    said = words(page(made, "index.md").body)
    assert "2 of the book’s 2 problems (100%) also stand in a mixed set, where no two neighbours begin with the same method." in said


def test_the_public_page_of_a_lesson_keeps_the_teachers_part_to_itself(made: Site) -> None:
    body = page(made, "lessons/harbour.md").body
    assert "What becomes simpler" in body
    assert "<strong>paper</strong>" in body
    assert "Set: Low water" in body
    assert "20 minutes" in body
    assert "whisper" not in body
    assert "ev-answer" not in body


def test_errata_are_told_with_their_days_newest_first(made: Site) -> None:
    said = words(page(made, "errata.md").body)
    assert "This is the Second edition, 9 January 2027." in said
    assert said.index("12 February 2027 · A ferry by parts : A sign in the key.") < said.index("10 January 2027 · Substitute at the lock :")


def test_sets_and_lessons_are_reached_from_the_navigation(made: Site) -> None:
    assert [entry for entry in made.navigation if entry[0] in ("Sets", "Lessons")] == [
        ("Sets", "sets/index.md"),
        ("Lessons", "lessons/index.md"),
    ]


def test_what_is_withheld_is_on_no_page(book: Book) -> None:
    """Every page of the site is searched: for the key, the hint, the remark, the reason, the author's and our methods."""
    early = site(published(book, datetime.date(2027, 2, 28)), sources())
    for each in early.pages:
        assert "herring" not in each.body, each.path
        assert "herring" not in each.words
    lock = page(early, "tides/lock.md")
    assert "will be here from 1 March 2027" in lock.body
    assert (lock.tags, lock.title) == ((), "Substitute at the lock")
    assert "R. Okafor" in lock.body
    assert not any(kind in lock.body for kind in ("ev-answer", "ev-solution", "ev-hint", "ev-checks", "ev-tag", "ev-badge"))
    assert "topics/substitution.md" not in {each.path for each in early.pages}
    assert page(early, "sets/tide.md").body.count("ev-answer") == 1
    assert "1 more, checked and not published yet" in words(page(early, "checked.md").body)
    later = site(published(book, datetime.date(2027, 3, 1)), sources())
    assert "herring" in page(later, "tides/lock.md").body


def test_a_book_without_answers_says_so(book: Book) -> None:
    bare = site(published(book, datetime.date(2030, 1, 1), answers=False), sources())
    for path in ("tides/ferry.md", "tides/lock.md", "sets/tide.md"):
        assert "This edition comes without answers." in page(bare, path).body
        assert "ev-answer" not in page(bare, path).body
