"""The ways from a page to where its file is kept. Addresses as GitHub, GitLab and Forgejo document them."""

from __future__ import annotations

import re

import pytest

from everyline.render.addresses import Addresses, Here
from everyline.render.repository import Repository

PATH = "powers/a b.md"
HERE = Here(PATH, Addresses())


@pytest.mark.parametrize(
    ("url", "edit", "edits", "new", "report"),
    [
        (
            "https://github.com/lane/book", "edit/main/content/", "https://github.com/lane/book/edit/main/content/powers/a%20b.md",
            "https://github.com/lane/book/new/main/content/powers?filename=new-problem.md&value=",
            "https://github.com/lane/book/issues/new?title=Something%20is%20wrong%20on%20powers%2Fa%20b.md",
        ),
        (
            "https://gitlab.com/lane/book/", "-/edit/main/content/", "https://gitlab.com/lane/book/-/edit/main/content/powers/a%20b.md",
            "https://gitlab.com/lane/book/-/new/main/content/powers?filename=new-problem.md&value=",
            "https://gitlab.com/lane/book/-/issues/new?issue%5Btitle%5D=Something%20is%20wrong%20on%20powers%2Fa%20b.md",
        ),
        (
            "https://git.example.org/lane/book", "_edit/main/content/", "https://git.example.org/lane/book/_edit/main/content/powers/a%20b.md",
            "https://git.example.org/lane/book/_new/main/content/powers?filename=new-problem.md&value=",
            "https://git.example.org/lane/book/issues/new?title=Something%20is%20wrong%20on%20powers%2Fa%20b.md",
        ),
        ("https://example.org/x", "src/default/", "https://example.org/x/src/default/powers/a%20b.md", "", "https://example.org/x/issues/new?title="),
        ("https://example.org/x", "?edit=", "https://example.org/x?edit=powers/a%20b.md", "", "https://example.org/x/issues/new?title="),
        ("https://example.org/x", "", "", "", "https://example.org/x/issues/new?title="),
        ("", "", "", "", ""),
        ("javascript:alert(1)", "edit/", "", "", ""),
        ('https://example.org/"><script>', "edit/", "", "", ""),
    ],
)  # fmt: skip
def test_the_addresses(url: str, edit: str, edits: str, new: str, report: str) -> None:
    kept = Repository(url, edit)
    assert kept.edit_of(PATH) == edits
    assert kept.new_in("powers").startswith(new)
    assert bool(kept.new_in("powers")) == bool(new)
    assert kept.report_of(HERE).startswith(report)
    assert bool(kept.report_of(HERE)) == bool(report)
    links = re.findall(r'href="([^"]*)"', kept.links(HERE))
    assert len(links) == bool(edits) + bool(new) + bool(report)


def test_a_page_without_a_repository_has_no_such_row() -> None:
    assert Repository().links(HERE) == Repository().add_link(HERE) == ""
