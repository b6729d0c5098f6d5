"""The ways from the pages to where the files are kept, and the report that nothing leads to."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

from small_book import BOOK, SETTINGS, mkdocs, write

KEPT = "https://github.com/harbour-lane/tides"


def test_a_problem_has_the_ways_to_its_own_file(look: Callable[..., Any]) -> None:
    ways = look("below/ferry/").locator(".ev-ways a")
    assert {way.inner_text(): way.get_attribute("href").partition("&value=")[0] for way in ways.all()} == {
        "Edit this problem": f"{KEPT}/edit/main/content/below/ferry.md",
        "Report this page": f"{KEPT}/issues/new?title=Something%20is%20wrong%20on%20below%2Fferry.md",
        "Add a problem": f"{KEPT}/new/main/content/below?filename=new-problem.md",
    }


def test_a_chapter_has_the_way_to_a_new_problem(built: Path) -> None:
    assert re.findall(r'class="ev-ways".*?<a[^>]*>([^<]*)<', (built / "below" / "index.html").read_text("utf-8")) == ["Add a problem"]


def test_a_set_and_a_lesson_have_the_ways_to_their_files(built: Path) -> None:
    for path in ("sets/low-water", "lessons/round-the-harbour"):
        page = (built / path / "index.html").read_text("utf-8")
        assert f'href="{KEPT}/edit/main/content/{path}.md" rel="noopener">Edit this page' in page


def test_without_a_repository_there_are_no_ways(tmp_path: Path) -> None:
    write(tmp_path, {path: text for path, text in BOOK.items() if path in ("book.yml", "index.md", "below/index.md", "below/lock.md")})
    kept = (line for line in SETTINGS.splitlines() if not line.startswith(("repo_url", "edit_uri")))
    settings = "\n".join(kept).replace("{report: true}", "{}")
    (tmp_path / "mkdocs.yml").write_text(settings, "utf-8")
    done = mkdocs(tmp_path, "build")
    assert done.returncode == 0, done.stderr
    assert "ev-ways" not in "".join(page.read_text("utf-8") for page in (tmp_path / "site").rglob("*.html"))
    assert not (tmp_path / "site" / "report").exists()


def test_the_report_is_there_but_no_page_and_no_search_leads_to_it(built: Path) -> None:
    page = (built / "report" / "index.html").read_text("utf-8")
    assert "Report for the teacher" in page
    assert '<meta name="robots" content="noindex">' in page
    others = [other for other in built.rglob("*.html") if other.parent.name != "report"]
    assert [other for other in others if re.search(r'href="[^"]*report/?"', other.read_text("utf-8"))] == []
    found = json.loads((built / "search" / "search_index.json").read_text("utf-8"))["docs"]
    assert found
    assert [entry["location"] for entry in found if entry["location"].startswith("report")] == []


def test_only_the_report_is_kept_from_search_engines(built: Path) -> None:
    assert 'name="robots"' not in (built / "below" / "ferry" / "index.html").read_text("utf-8")
