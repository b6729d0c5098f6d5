"""A book with answers that are not due yet, built as a site: nothing of them is in any file of it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from small_book import BOOK, write

HELD = r"""---
question: \int \frac{34x}{(x^2+7919)^2} \, dx
key: -\frac{17}{x^2+7919} + C
title: Before the bell
release: 2027-03-01
hints: [Mind the cormorant.]
---

A cormorant dives.
"""
#: What only the answer, the solutions, the hint or the remark can bring onto a page.
TELLING = ("cormorant", "17}{x^{2}", ">17<", "ubstitution")


def build(folder: Path, day: int) -> Path:
    environment = os.environ | {"NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": str(day)}
    command = [sys.executable, "-m", "mkdocs", "build", "-q", "-d", f"site-{day}"]
    subprocess.run(command, cwd=folder, env=environment, check=True, timeout=300, stderr=subprocess.DEVNULL)
    return folder / f"site-{day}"


def mentions(site: Path, word: str) -> list[str]:
    own = (path for path in site.rglob("*") if path.suffix in (".html", ".json", ".xml", ".md", ".pdf") and "assets" not in path.parts)
    return [path.relative_to(site).as_posix() for path in own if word.encode() in path.read_bytes()]


def test_before_its_day_an_answer_is_nowhere_in_the_site_and_on_its_day_it_is(tmp_path: Path) -> None:
    only = {name: text for name, text in BOOK.items() if name.endswith("index.md") or name == "book.yml"}
    write(tmp_path, only | {"below/bell.md": HELD})
    # 1803859200 is 2027-03-01T00:00Z.
    early, later = build(tmp_path, 1803859199), build(tmp_path, 1803859200)
    for word in TELLING:
        assert mentions(early, word) == []
        assert "below/bell/index.html" in mentions(later, word)
    assert "below/bell/index.html" in mentions(early, "from 1 March 2027")
    assert (early / "search" / "search_index.json").is_file()
