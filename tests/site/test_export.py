"""A book as plain Markdown and files, built by other generators: MkDocs without our plugin, and Zensical."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import markdown
import pytest
from small_book import BOOK, write

from everyline.language import translator
from everyline.render.prose import written_out

OWN = {
    "about.md": "# About\n\nIts sign is $\\int_{a}^{b} x_1 x_2\\,dx$, see [a ferry](below/ferry.md); `$5` is code.\n",
    "assets/boat.txt": "a boat",
    "_draft.md": "# Not yet",
    ".secret/note.md": "# Hidden",
    "below/later.md": """\
        ---
        question: \\int 8x^3 \\, dx
        key: 2x^4 + C
        title: Later
        release: 2099-01-01
        hints: [Not before its day.]
        ---
        """,
}
BUILD = {
    "mkdocs": [sys.executable, "-m", "mkdocs", "build", "--strict", "-q"],
    "zensical": [sys.executable, "-m", "zensical", "build", "--strict"],
}


def run(folder: Path, *command: str) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"NO_MKDOCS_2_WARNING": "1", "PYTHONIOENCODING": "utf-8"}
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, encoding="utf-8", check=False, timeout=300)


def export(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return run(folder, sys.executable, "-m", "everyline.cli", "export", *arguments)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("exported")
    write(folder, BOOK | OWN)
    done = export(folder, "out")
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture(scope="module", params=BUILD)
def built(request: pytest.FixtureRequest, book: Path) -> Path:
    """The export as one of the generators builds it."""
    done = run(book / "out", *BUILD[request.param])
    assert done.returncode == 0, done.stdout + done.stderr
    return (book / "out" / "site").rename(book / request.param)


def whole(html: str) -> str:
    """What a reader gets: Material takes out what is there for its search alone."""
    return " ".join(re.sub(r'\s?data-search-\w+="[^"]*"', "", html).split())


def test_every_page_is_there_with_all_that_was_made_of_it(book: Path, built: Path) -> None:
    docs = book / "out" / "docs"
    pages = sorted(path.relative_to(docs).with_suffix("") for path in docs.rglob("*.md"))
    assert len(pages) > 90
    for page in pages:
        body = re.search(r"<div>\n(.*)\n</div>\n$", (docs / page).with_suffix(".md").read_text("utf-8"), re.DOTALL)
        assert whole(body[1] if body else "") in whole((built / page).with_suffix(".html").read_text("utf-8")), page


def test_every_link_and_every_file_leads_somewhere(built: Path) -> None:
    for page in built.rglob("*.html"):
        found = re.search(r"<article.*?</article>", page.read_text("utf-8"), re.DOTALL)
        for target in re.findall(r'(?:href|src)="(?!https?:|mailto:)([^"#?]+)', found[0] if found else ""):
            assert (page.parent / target).is_file(), (page, target)


def test_the_owner_s_own_pages_come_with_their_formulas(built: Path) -> None:
    page = (built / "about.html").read_text("utf-8")
    formula = re.search(r"<math.*?</math>", page, re.DOTALL)
    assert formula
    ElementTree.fromstring(re.sub(r"&(?!amp|lt|gt|quot|#)\w+;", "", formula[0]))
    assert "<em>" not in formula[0]
    assert "<code>$5</code>" in page
    assert 'href="below/ferry.html"' in page
    assert (built / "assets" / "boat.txt").read_text() == "a boat"


def test_style_script_and_font_come_along(built: Path) -> None:
    page = (built / "below" / "lock.html").read_text("utf-8")
    for file in ("everyline.css", "everyline.js", "mark.svg"):
        assert f"../assets/everyline/{file}" in page
    assert (built / "assets" / "everyline" / "math.woff2").stat().st_size > 10_000


def test_what_is_not_published_is_not_exported(book: Path) -> None:
    names = {path.name for path in (book / "out").rglob("*")}
    assert names.isdisjoint({"book.yml", "_draft.md", "note.md", "report"})
    later = (book / "out" / "docs" / "below" / "later.md").read_text("utf-8")
    assert "Later" in later
    assert "Not before its day" not in later
    assert "ev-answer" not in later


def test_nothing_is_written_over_and_no_book_with_errors_is_exported(tmp_path: Path) -> None:
    write(
        tmp_path, {"index.md": "# A", "a/index.md": "---\ntitle: A\n---\n", "a/b.md": "---\nquestion: \\int 2x \\, dx\nkey: x + C\n---\n"}
    )
    done = export(tmp_path, "content")
    assert (done.returncode, "there already" in done.stderr) == (2, True)
    done = export(tmp_path, "out")
    assert (done.returncode, "a/b.md:3" in done.stderr, "Traceback" in done.stderr) == (1, True, False)
    assert not (tmp_path / "out").exists()
    assert export(tmp_path, "out", "--book", "nowhere").returncode == 2


@pytest.mark.parametrize(
    ("text", "formulas"),
    [
        ("$x$ and $$y$$", 2),
        ("a \\$5 note, `$x$` and ``a `$x$` b``", 0),
        ("```\n$x$\n```\n$y$", 1),
        ("~~~\n$x$\n~~~\n\n$a*b*c_d$ and $e_f*g$", 2),
        ("| a | b |\n|---|---|\n| $\\lvert x \\rvert$ | $x$ |", 2),
    ],
)
def test_formulas_are_written_out_and_code_is_left_alone(text: str, formulas: int) -> None:
    html = markdown.markdown(written_out(text, translator("en")), extensions=["tables", "fenced_code"])
    assert html.count("<math") == formulas
    assert "<em>" not in html
    assert html.count("<td>") in (0, 2)
