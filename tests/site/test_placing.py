"""Finished pages are set into the theme's frame, and a new site takes the old one's place only when it is whole."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from small_book import BOOK, SETTINGS, mkdocs, write

from everyline.adapters.placing import Placing, can_be_placed, frame_path
from everyline.adapters.swapping import beside, swap
from everyline.render.addresses import Addresses
from everyline.render.page import Page


def page(path: str = "below/a ferry.md", kind: str = "problem", **more: str) -> Page:
    return Page(path, "If x < 2 & more", kind, "<h1>If</h1>", "the words", ("Tag",), **more)


def test_a_page_is_set_into_the_frame_of_its_depth() -> None:
    placing = Placing((page(), page("deep/er/b.md")), Addresses())
    first, second = placing.wanted()
    assert [each.path.count("/") for each in (first, second)] == [1, 2]
    placing.take(first.path, f"<title>{first.title}</title><link href='https://e.org/{first.path[:-3]}/'>{first.body}")
    made = placing.html(page())
    assert made == "<title>If x &lt; 2 &amp; more</title><link href='https://e.org/below/a%20ferry/'><h1>If</h1>"
    with pytest.raises(LookupError):
        placing.html(page("deep/er/b.md"))


@pytest.mark.parametrize(
    ("made", "placed"),
    [
        (page(), True),
        (page(kind="fault"), True),
        (page("topics/index.md", "topic"), False),
        (page(kind="chapter"), False),
        (page(kind="report"), False),
    ],
    ids=lambda value: value.kind if isinstance(value, Page) else "",
)
def test_only_pages_that_differ_in_nothing_else_are_placed(made: Page, placed: bool) -> None:
    assert can_be_placed(made) is placed


def test_a_page_with_a_way_to_its_file_has_a_frame_of_its_own() -> None:
    assert frame_path(page()) != frame_path(page(edit="https://e.org/edit/a.md"))


def test_the_site_has_every_page_once_in_its_map_and_its_search_and_no_frame(tmp_path: Path) -> None:
    write(tmp_path, BOOK)
    settings = tmp_path / "mkdocs.yml"
    settings.write_text(f"{SETTINGS}site_url: https://example.org/book/\n", "utf-8")
    (tmp_path / "content" / "more.md").write_text("# More\n\n[A ferry](below/ferry.md) and [half](table/half.md#answer).\n", "utf-8")
    done = mkdocs(tmp_path, "build", "--strict")
    assert done.returncode == 0, done.stderr
    site = tmp_path / "site"
    assert 'href="../below/ferry/"' in (site / "more" / "index.html").read_text("utf-8")
    locations = re.findall(r"<loc>(.*?)</loc>", (site / "sitemap.xml").read_text("utf-8"))
    assert locations.count("https://example.org/book/below/ferry/") == 1
    entries = [each["location"] for each in json.loads((site / "search" / "search_index.json").read_text("utf-8"))["docs"]]
    assert entries.count("below/ferry/") == 1
    assert not [text for text in (*locations, *entries) if "frame" in text or ("manual/" in text and text in entries)]
    assert not list(site.rglob("*frame*"))
    ferry = (site / "below" / "ferry" / "index.html").read_text("utf-8")
    assert "frame" not in re.sub(r"iframe", "", ferry)
    assert '<link rel="canonical" href="https://example.org/book/below/ferry/">' in ferry
    assert "/edit/main/content/below/ferry.md" in ferry
    assert "<title>A ferry that divides - Tides and timetables</title>" in ferry


# -- a new site in place of the old one ---------------------------------------------------------------------------------


def tree(folder: Path) -> dict[str, str]:
    return {path.relative_to(folder).as_posix(): path.read_text() for path in sorted(folder.rglob("*")) if path.is_file()}


@pytest.fixture(params=[True, False], ids=["in one step", "in two"])
def site(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    if not request.param:
        monkeypatch.setattr("everyline.adapters.swapping._exchanged", lambda *_: False)
    folder = tmp_path / "site"
    for name in ("old.html", ".git/HEAD"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(name)
    return folder


def test_the_new_site_replaces_the_old_one_but_not_what_is_hidden_in_it(site: Path) -> None:
    new = beside(site)
    new.mkdir()
    (new / "new.html").write_text("new")
    assert tree(site) == {"old.html": "old.html", ".git/HEAD": ".git/HEAD"}
    assert swap(new, site) == site
    assert tree(site) == {"new.html": "new", ".git/HEAD": ".git/HEAD"}
    assert [path.name for path in site.parent.iterdir()] == ["site"]


def test_a_run_that_was_killed_between_the_two_steps_is_put_right(site: Path) -> None:
    site.rename(site.with_name(".site.old"))
    beside(site)
    assert "old.html" in tree(site)


@pytest.mark.parametrize(
    ("key", "how"),
    [("x + C", ()), ("x^2", ("--strict",))],
    ids=["for a wrong key", "for a warning, as a strict one does at its very end"],
)
def test_a_build_that_fails_leaves_the_old_site_whole(tmp_path: Path, key: str, how: tuple[str, ...]) -> None:
    write(tmp_path, BOOK)
    assert mkdocs(tmp_path, "build", "-q").returncode == 0
    before = tree_of_bytes(tmp_path / "site")
    (tmp_path / "content" / "below" / "lock.md").write_text(f"---\nquestion: \\int 2x \\, dx\nkey: {key}\n---\n", "utf-8")
    assert mkdocs(tmp_path, "build", *how).returncode == 1
    assert tree_of_bytes(tmp_path / "site") == before
    assert {path.name for path in tmp_path.iterdir() if "site" in path.name} == {"site"}, "something is left of the new one"


def tree_of_bytes(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
