"""A served book after a save: what changed is new, what is gone is gone, and everything is as a build from nothing makes it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from textwrap import dedent

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from small_book import BOOK, SETTINGS, write

from everyline.adapters.placing import Placing
from everyline.adapters.serving import Live
from everyline.render.addresses import Addresses
from everyline.render.page import Page

ADDRESS = "http://127.0.0.1:8000/"


class Server:
    """A server's builds, as `mkdocs serve` makes them: the settings are read anew for each, the plugin stays, the folder too."""

    def __init__(self, book: Path, site: Path) -> None:
        self.book, self.site = book, site
        self.plugins: dict[str, object] = {}
        site.mkdir()

    def build(self) -> dict[str, bytes]:
        begun = bool(self.plugins)
        MkDocsConfig.plugins.plugin_cache = self.plugins  # it has one for the process, as a server has a process
        config = load_config(str(self.book / "mkdocs.yml"), site_dir=str(self.site))
        config.site_url = ADDRESS
        if not begun:
            config.plugins.on_startup(command="serve", dirty=False)
        build(config, serve_url=ADDRESS)
        return shown(self.site)


def shown(site: Path) -> dict[str, bytes]:
    """What a browser can see of a site; but for the report, which says how long things took, and dates inside packed files."""
    files = (path for path in site.rglob("*") if path.is_file() and path.suffix not in (".gz", ".pdf"))
    return {name: path.read_bytes() for path in files if not (name := path.relative_to(site).as_posix()).startswith((".new/", "report/"))}


def rename(content: Path) -> None:
    (content / "below" / "lock.md").rename(content / "below" / "bolt.md")
    text = (content / "below" / "ferry.md").read_text("utf-8").replace("lock.md", "bolt.md")
    (content / "below" / "ferry.md").write_text(text, "utf-8")
    low = content / "sets" / "low-water.md"
    low.write_text(low.read_text("utf-8").replace("below/lock", "below/bolt"), "utf-8")


def edit(name: str, old: str, new: str) -> Callable[[Path], None]:
    def change(content: Path) -> None:
        path = content / name
        text = path.read_text("utf-8")
        assert old in text
        path.write_text(text.replace(old, new), "utf-8")

    return change


def delete(name: str) -> Callable[[Path], None]:
    return lambda content: (content / name).unlink()


NEW = "---\nquestion: \\int 6x \\, dx\nkey: 3x^2 + C\ntitle: A new one\n---\n"
TITLE = edit("below/lock.md", "Filling the lock", "Emptying the lock")


def add(content: Path) -> None:
    (content / "table" / "new.md").write_text(NEW, "utf-8")


#: What is changed between one build and the next, in the same server.
CHANGES: dict[str, tuple[Callable[[Path], None], ...]] = {
    "a title, and a file nobody can read": (TITLE, edit("table/half.md", "\\sec^2 x", "\\frac{1}{x")),
    "a wrong key; the file reads again": (edit("below/lock.md", "{12}", "{13}"), edit("table/half.md", "\\frac{1}{x", "\\sec^2 x")),
    "the key mended; another order": (edit("below/lock.md", "{13}", "{12}"), edit("below/ferry.md", "level: 2", "level: 1")),
    "a problem renamed, a new one, one deleted": (rename, add, delete("table/strip.md")),
    "a chapter's title": (edit("table/index.md", "Straight", "Right"),),
    "what the book is called; a set deleted": (edit("book.yml", "Tides and timetables", "Ebb and flow"), delete("sets/low-water.md")),
    "the settings": (edit("../mkdocs.yml", "primary: custom", "primary: indigo"),),
    "other addresses": (edit("../mkdocs.yml", "docs_dir: content", "docs_dir: content\nuse_directory_urls: false"),),
}


def book(folder: Path) -> Server:
    lesson = "lessons/round-the-harbour.md"
    write(folder / "book", {name: text for name, text in BOOK.items() if name != lesson})
    return Server(folder / "book", folder / "served")


def test_after_every_change_the_site_is_what_a_new_server_would_show(tmp_path: Path) -> None:
    server = book(tmp_path)
    server.build()
    for number, (name, changes) in enumerate(CHANGES.items()):
        for change in changes:
            change(server.book / "content")
        found, wanted = server.build(), Server(server.book, tmp_path / f"new-{number}").build()
        assert sorted(found) == sorted(wanted), name
        assert [path for path in found if found[path] != wanted[path]] == [], name


@dataclass(frozen=True)
class Saved:
    """What is shown before a title is changed and after it, and which files were written for it."""

    before: dict[str, bytes]
    after: dict[str, bytes]
    written: frozenset[str]


@pytest.fixture(scope="module")
def saved(tmp_path_factory: pytest.TempPathFactory) -> Saved:
    server = book(tmp_path_factory.mktemp("saved"))
    before = server.build()
    times = {name: (server.site / name).stat().st_mtime_ns for name in before}
    TITLE(server.book / "content")
    after = server.build()
    return Saved(before, after, frozenset(name for name in after if (server.site / name).stat().st_mtime_ns != times.get(name)))


def test_a_title_that_changed_is_new_wherever_it_stands(saved: Saved) -> None:
    changed = {name for name in saved.after if saved.after[name] != saved.before.get(name)}
    assert {"below/lock/index.html", "below/index.html", "search/search_index.json"} <= changed
    assert b"Emptying the lock" in saved.after["below/ferry/index.html"] + saved.after["below/wide/index.html"]  # its neighbours
    assert not [name for name, text in saved.after.items() if b"Filling the lock" in text]


def test_the_search_stays_whole(saved: Saved) -> None:
    before, after = (json.loads(made["search/search_index.json"])["docs"] for made in (saved.before, saved.after))
    assert [entry["location"] for entry in before] == [entry["location"] for entry in after]
    assert [entry["title"] for entry in after].count("Emptying the lock") == 1
    found = [entry["location"] for entry in after]
    problems = {f"below/{name}/" for name in ("ferry", "lock", "wide")} | {f"table/{name}/" for name in ("half", "strip", "slope", "wall")}
    assert problems <= set(found), "also those without a title of their own"
    assert [place for place in found if place.startswith("sets/low-water/")] == ["sets/low-water/"]


def test_a_save_writes_no_page_that_did_not_change(saved: Saved) -> None:
    assert "below/lock/index.html" in saved.written
    assert not saved.written & {f"table/{name}/index.html" for name in ("half", "strip", "slope", "wall")}


def test_a_chapter_is_found_by_what_it_is_about_and_its_problems_by_their_own_pages(saved: Saved) -> None:
    page = saved.after["below/index.html"].decode()
    assert page.count("ev-row__title") == 3
    assert "everyline-list" not in page
    assert "data-search" not in page
    texts = {entry["location"]: entry["text"] for entry in json.loads(saved.after["search/search_index.json"])["docs"]}
    assert re.sub("<[^>]*>", "", texts["below/"]).strip() == "Where x is below."


def test_a_build_that_fails_leaves_what_is_shown(tmp_path: Path) -> None:
    server = book(tmp_path)
    before = server.build()
    TITLE(server.book / "content")
    template = server.book / "theme" / "main.html"
    template.parent.mkdir()
    template.write_text('{% extends "base.html" %}{% block footer %}{{ nothing.at.all }}{% endblock %}', "utf-8")
    settings = server.book / "mkdocs.yml"
    settings.write_text(SETTINGS.replace("  name: material\n", "  name: material\n  custom_dir: theme\n"), "utf-8")
    with pytest.raises(Exception, match="nothing"):
        server.build()
    assert shown(server.site) == before
    settings.write_text(dedent(SETTINGS), "utf-8")
    assert b"Emptying the lock" in server.build()["below/lock/index.html"]


# -- the folder itself ---------------------------------------------------------------------------------------------------


def test_a_file_makes_room_for_a_folder_and_a_folder_for_a_file(tmp_path: Path) -> None:
    live = Live(tmp_path / "site")
    live.site.mkdir()

    def turn(built: dict[str, str], *pages: str) -> list[str]:
        made = live.begin()
        made.mkdir()
        for name, text in built.items():
            (made / name).parent.mkdir(parents=True, exist_ok=True)
            (made / name).write_text(text)
        placing = Placing(tuple(Page(f"{name}.md", name, "fault", "<h1>x</h1>") for name in pages), Addresses())
        for frame in placing.wanted():
            placing.take(frame.path, f"<title>{frame.title}</title>{frame.body}")
        live.finish(placing)
        found = (path for path in live.site.rglob("*") if path.is_file())
        return sorted(path.relative_to(live.site).as_posix() for path in found)

    assert turn({"a": "1", "b/c.txt": "2"}) == ["a", "b/c.txt"]
    assert turn({"b": "1"}, "a") == ["a/index.html", "b"]
    assert turn({"a": "1", "b/c.txt": "2"}, "d/e") == ["a", "b/c.txt", "d/e/index.html"]
    assert turn({}) == []
