"""Addresses from page to page, in both ways of writing them."""

from __future__ import annotations

import pytest

from everyline.render.addresses import Addresses, Here


@pytest.mark.parametrize(
    ("start", "target", "folders", "files"),
    [
        ("index.md", "tides/ferry.md", "tides/ferry/", "tides/ferry.html"),
        ("tides/ferry.md", "index.md", "../../", "../index.html"),
        ("tides/ferry.md", "tides/lock.md", "../lock/", "lock.html"),
        ("tides/ferry.md", "tides/index.md", "../", "index.html"),
        ("tides/index.md", "tides/ferry.md", "ferry/", "ferry.html"),
        ("tides/ferry.md", "topics/parts.md", "../../topics/parts/", "../topics/parts.html"),
        ("tides/ferry.md", "tides/ferry.md", "./", "ferry.html"),
        ("index.md", "index.md", "./", "index.html"),
        ("checked.md", "index.md", "../", "index.html"),
    ],
)
def test_a_link_from_page_to_page(start: str, target: str, folders: str, files: str) -> None:
    assert Addresses(True).link(start, target) == folders
    assert Addresses(False).link(start, target) == files


@pytest.mark.parametrize(
    ("path", "folders", "files"),
    [("tides/index.md", "tides/", "tides/index.html"), ("sets/low.md", "sets/low/", "sets/low.html"), ("", "", "")],
)
def test_a_printed_address_is_written_as_the_site_writes_it(path: str, folders: str, files: str) -> None:
    site = "https://example.org/book/"
    assert Addresses(True).whole(path, site) == site + folders
    assert Addresses(False).whole(path, site) == site + files
    assert Addresses(False).whole(path, "") == ""


def test_a_link_to_a_place_on_a_page() -> None:
    assert Here("tides/ferry.md", Addresses()).link("checked.md", "proved") == "../../checked/#proved"


def test_a_file_beside_a_page() -> None:
    assert Here("tides/ferry.md", Addresses(True)).file("tide.svg") == "../tide.svg"
    assert Here("tides/ferry.md", Addresses(False)).file("tide.svg") == "tide.svg"
