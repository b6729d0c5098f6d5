"""A book with answers that are not due yet, built as a site: nothing of them is in any file of it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdf
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
TELLING = ("cormorant", "17}{x^{2}", ">17<", "topics/substitution")


def build(folder: Path, day: int) -> Path:
    environment = os.environ | {"NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": str(day)}
    command = [sys.executable, "-m", "mkdocs", "build", "-q", "-d", f"site-{day}"]
    subprocess.run(command, cwd=folder, env=environment, check=True, timeout=300, stderr=subprocess.DEVNULL)
    return folder / f"site-{day}"


def mentions(site: Path, word: str) -> list[str]:
    """The files of a site that hold a word; of a PDF its text is read."""
    own = (path for path in site.rglob("*") if path.is_file() and "assets" not in path.parts)
    return [path.relative_to(site).as_posix() for path in own if word in text(path)]


def text(path: Path) -> str:
    if path.suffix == ".pdf":
        return "".join(page.extract_text() for page in pypdf.PdfReader(path).pages)
    return path.read_bytes().decode("utf-8", errors="replace")


def test_before_its_day_an_answer_is_nowhere_in_the_site_and_on_its_day_it_is(
    tmp_path: Path, browser: Any, serve: Callable[[Path], str]
) -> None:
    only = {name: text for name, text in BOOK.items() if name.endswith("index.md") or name == "book.yml"}
    write(tmp_path, only | {"below/bell.md": HELD})
    # 1803859200 is 2027-03-01T00:00Z.
    early, later = build(tmp_path, 1803859199), build(tmp_path, 1803859200)
    # Numbers on paper: the question has 34 and 7919, the key and the worked lines 17.
    assert not any("17" in text(path) for path in (early / "sheets").glob("below-*"))
    assert not (early / "sheets" / "below-practice-key.pdf").exists()
    assert "17" in text(later / "sheets" / "below-practice-key.pdf")
    for word in TELLING:
        assert mentions(early, word) == []
        assert "below/bell/index.html" in mentions(later, word)
    assert "below/bell/index.html" in mentions(early, "from 1 March 2027")
    assert "below/index.html" in mentions(early, "the key is not published yet")
    assert (early / "search" / "search_index.json").is_file()
    noted_until_then(browser, serve(early), serve(later))


def noted_until_then(browser: Any, early: str, later: str) -> None:
    """What a student notes before the day stays in the browser, and waits in the box on the day (here: at another address)."""
    page = browser.new_context().new_page()
    page.goto(f"{early}below/bell/")
    page.fill("#note-answer", "-17/(x^2+7919) + C")
    page.press("#note-answer", "Enter")
    assert "Answer noted" in page.locator(".ev-note [role=status]").inner_text()
    page.reload()
    assert page.input_value("#note-answer") == "-17/(x^2+7919) + C"
    kept = page.evaluate("localStorage.getItem('everyline-noted:below/bell.md')")
    page.goto(f"{later}below/bell/")
    page.evaluate("noted => localStorage.setItem('everyline-noted:below/bell.md', noted)", kept)
    page.reload()
    assert page.input_value("#try-answer") == "-17/(x^2+7919) + C"
