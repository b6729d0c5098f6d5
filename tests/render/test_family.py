"""A family's page without a script: the question, its solutions, and a list of others with folded answers."""

from __future__ import annotations

import re

import pytest
from varied import CONVENTIONS, family

from everyline.book import Book, Job, examine
from everyline.render.page import Page
from everyline.render.site import site
from everyline.source.problem import Chapter


@pytest.fixture(scope="module")
def page() -> Page:
    problem = family(r"\int a\cos(bx) \, dx", r"\frac{a}{b}\sin(bx) + C", "{a: 2..6, b: 2..6}", "title: A wave with $b$ in it\n")
    book = Book(CONVENTIONS, (Chapter("tides", "Tides", 1, ()),), (examine(Job(problem, CONVENTIONS)),), ())
    return next(page for page in site(book, _NoLines()).pages if page.kind == "problem")


class _NoLines:
    def line(self, path: str, number: int) -> str | None:
        return None


def test_the_others_are_a_numbered_list_in_a_fold(page: Page) -> None:
    body = page.body
    assert "Same kind, new numbers" in body
    fold = body[body.index('id="family"') :]
    assert "15 more questions" in fold
    assert "The answer was proved with letters in place of the numbers, and once more for each of these questions." in fold
    assert '<ol class="ev-instances" start="2">' in fold
    assert len(re.findall(r'<details id="family-\d+"', fold)) == 15
    assert fold.count(">proved</a>") == 15


def test_no_letter_of_the_family_is_left_on_the_page(page: Page) -> None:
    assert not re.search(r'data-tex="[^"]*(?<![\\a-z])[ab](?![a-z])', page.body)
    assert re.fullmatch(r"A wave with \d in it", page.title)


def test_ids_are_unique(page: Page) -> None:
    ids = re.findall(r' id="([^"]+)"', page.body)
    assert len(ids) == len(set(ids))
