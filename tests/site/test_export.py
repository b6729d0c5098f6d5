"""A book that outlives its tools: exported as plain Markdown, it is built by MkDocs without everyline, and looks the same."""

from __future__ import annotations

import importlib.util
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from small_book import BOOK, mkdocs, write

from everyline.render.prose import with_formulas


@pytest.fixture(scope="module")
def exported(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("exported")
    write(
        folder, BOOK | {"more.md": "# More\n\n$x^2$ opens [a page](below/ferry.md).\n\n    code $x$\n\n`$y$`\n", "below/map.txt": "a map"}
    )
    command = [sys.executable, "-m", "everyline.cli", "export", "out"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    again = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert (again.returncode, "not an empty folder" in again.stderr) == (2, True)
    return folder / "out"


def test_mkdocs_alone_builds_it_strictly(exported: Path) -> None:
    settings = (exported / "mkdocs.yml").read_text("utf-8")
    assert "everyline.adapters" not in settings
    assert '"plugins"' not in settings
    done = mkdocs(exported, "build", "--strict")
    assert done.returncode == 0, done.stderr
    ferry = (exported / "site" / "below" / "ferry" / "index.html").read_text("utf-8")
    article = ferry[ferry.index("<article") : ferry.index("</article>")]
    assert article.count("<math") > 5
    assert 'class="ev-fold' in article
    assert "$" not in re.sub(r'data-tex="[^"]*"', "", article)
    for page in ("index.html", "below/index.html", "below/ferry/index.html", "topics/index.html"):
        here = exported / "site" / page
        for target in re.findall(r'<a [^>]*href="((?!https?:|#)[^"#]+)', here.read_text("utf-8")):
            reached = (here.parent / target).resolve()
            assert (reached / "index.html").is_file() or reached.is_file(), f"{page}: {target}"
    assert (exported / "site" / "below" / "map.txt").read_text() == "a map"
    more = (exported / "site" / "more" / "index.html").read_text("utf-8")
    assert "<math" in more
    assert "$y$" in more


def test_formulas_are_set_and_code_is_left_alone() -> None:
    made = with_formulas("$x$ and $$y$$\n\n`$a$`\n\n```\n$b$\n```\n$5 and $6")
    assert made.count("<math") == 2
    assert all(text in made for text in ("`$a$`", "\n$b$\n", "$5 and $6"))
    assert made.startswith("<span>")


@pytest.mark.skipif(importlib.util.find_spec("zensical") is None, reason="Zensical is not installed")
def test_zensical_builds_it(exported: Path, tmp_path: Path) -> None:
    folder = tmp_path / "book"
    shutil.copytree(exported, folder)
    done = subprocess.run([sys.executable, "-m", "zensical", "build"], cwd=folder, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stderr
    assert "<math" in (folder / "site" / "below" / "ferry" / "index.html").read_text("utf-8")
