"""Pages that were kept: the same as made anew, and made anew when anything that they show has changed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from everyline.book import build
from everyline.book.data import Book
from everyline.book.memory import Memory
from everyline.book.store import FILE, Store
from everyline.render import keeping
from everyline.render.page import Page
from everyline.render.site import site
from everyline.source.load import Sources

CHAPTER = b"---\ntitle: Powers\norder: 1\n---\n"
FILES = {
    f"powers/{name}.md": f"---\nquestion: \\int {n}x^3 \\, dx\nkey: {n}/4*x^4 + C\ntitle: Number {n}\n---\n".encode()
    for name, n in (("a", 12), ("b", 16), ("c", 20), ("d", 24))
}
READ = Sources(FILES, {"powers/index.md": CHAPTER}, b"log: natural\n")


@pytest.fixture
def memory(tmp_path: Path) -> Memory:
    return Memory(Store(tmp_path / FILE, b"s" * 32))


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The paths of problem pages that are made from now on."""
    from everyline.render import problem_page

    seen: list[str] = []
    body = problem_page.body

    def watched(spot: problem_page.Spot, *rest: object) -> str:
        seen.append(spot.examined.problem.slug)
        return body(spot, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(problem_page, "body", watched)
    return seen


def pages(read: Sources, memory: Memory | None) -> tuple[Page, ...]:
    return site(build(read, memory=memory), read, memory=memory).pages


def test_a_kept_page_is_the_page(memory: Memory, made: list[str]) -> None:
    plain = pages(READ, None)
    assert made == ["a", "b", "c", "d"]
    assert pages(READ, memory) == plain
    made.clear()
    assert pages(READ, memory) == plain
    assert made == []


def test_a_book_of_many_parts_is_kept_whole(memory: Memory, made: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    plain = pages(READ, None)
    monkeypatch.setattr(keeping, "PART", 3)
    assert pages(READ, memory) == plain
    made.clear()
    assert pages(READ, memory) == plain
    assert made == []


def test_a_page_is_made_anew_when_what_it_shows_has_changed(memory: Memory, made: list[str]) -> None:
    pages(READ, memory)
    made.clear()
    other = FILES["powers/a.md"].replace(b"Number 12", b"Another")
    changed = replace(READ, problems={**FILES, "powers/a.md": other})
    assert pages(changed, memory) == pages(changed, None)
    assert made[:2] == ["a", "b"]  # itself, and the neighbour that names it; then all four without a memory
    made.clear()
    titled = replace(READ, chapters={"powers/index.md": CHAPTER.replace(b"Powers", b"Roots")}, conventions=b"log: natural\ntitle: T\n")
    assert pages(titled, memory) == pages(titled, None)
    assert made == ["a", "b", "c", "d"] * 2


def test_what_may_not_be_shown_yet_is_not_taken_from_what_was(memory: Memory) -> None:
    from everyline.book.release import published, today

    dated = replace(READ, problems={**FILES, "powers/a.md": FILES["powers/a.md"].replace(b"title", b"release: 2099-01-01\ntitle")})
    book: Book = build(dated, memory=memory)
    site(book, dated, memory=memory)
    day = today({"SOURCE_DATE_EPOCH": "0"})
    hidden = {page.path: page.body for page in site(published(book, day), dated, memory=memory).pages}
    assert "ev-answer" not in hidden["powers/a.md"]
    assert "ev-answer" in hidden["powers/b.md"]
