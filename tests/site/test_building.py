"""Building and serving a book: what stops a build, what a person sees while writing."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from textwrap import dedent

import pytest
from small_book import BOOK, mkdocs, write

WRONG = """\
---
question: \\int (2x+7)^5 \\, dx
key: \\frac{(2x+7)^6}{6} + C
---
"""
HOSTILE = """\
---
question: x <img src=x onerror=alert(1)>
key: <script>alert(2)</script>
title: <img src=x onerror=alert(3)>
hints: ["<script>alert(4)</script>", "[a](javascript:alert(5))"]
author: <b onclick=alert(6)>A</b>
---

<script>alert(7)</script> [a](javascript:alert(8))
"""
UNREADABLE = """\
---
question: \\int \\frac{1}{x \\, dx
key: \\ln|x| + C
---
"""


def test_a_wrong_key_stops_the_build_and_every_fault_is_told(tmp_path: Path) -> None:
    write(tmp_path, BOOK | {"below/lock.md": WRONG, "table/half.md": UNREADABLE})
    done = mkdocs(tmp_path, "build")
    assert done.returncode == 1
    assert "below/lock.md:3:6" in done.stderr
    assert "table/half.md:2:" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "site" / "below" / "lock").exists()


def test_a_warning_stops_only_a_strict_build(tmp_path: Path) -> None:
    lacking = BOOK["below/lock.md"].replace(" + C", "")
    write(tmp_path, BOOK | {"below/lock.md": lacking})
    assert mkdocs(tmp_path, "build").returncode == 0
    strict = mkdocs(tmp_path, "build", "--strict")
    assert strict.returncode == 1
    assert "below/lock.md:3" in strict.stderr


def test_a_book_without_a_front_page_or_a_navigation_still_has_both(tmp_path: Path) -> None:
    write(tmp_path, {name: text for name, text in BOOK.items() if name != "index.md"})
    done = mkdocs(tmp_path, "build", "--strict")
    assert done.returncode == 0, done.stderr
    home = (tmp_path / "site" / "index.html").read_text("utf-8")
    assert home.index("Under the line") < home.index("Straight from the table")


def test_a_site_for_the_disk_links_to_files(tmp_path: Path) -> None:
    write(tmp_path, BOOK)
    settings = tmp_path / "mkdocs.yml"
    settings.write_text(settings.read_text("utf-8") + "use_directory_urls: false\n", "utf-8")
    assert mkdocs(tmp_path, "build", "--strict").returncode == 0
    page = tmp_path / "site" / "below" / "ferry.html"
    links = re.findall(r"<article.*</article>", page.read_text("utf-8"), re.S)[0]
    for target in re.findall(r'href="(?!https?:)([^"#:]+)', links):
        assert (page.parent / target).is_file(), target


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Callable[[dict[str, str]], str]]:
    """`mkdocs serve` of a book with some files changed; the address is returned when it answers."""
    running: list[subprocess.Popen[bytes]] = []

    def start(changed: dict[str, str]) -> str:
        write(tmp_path, BOOK | changed)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        command = [sys.executable, "-m", "mkdocs", "serve", "--dev-addr", f"127.0.0.1:{port}"]
        environment = os.environ | {"NO_MKDOCS_2_WARNING": "1"}
        running.append(subprocess.Popen(command, cwd=tmp_path, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL))
        return f"http://127.0.0.1:{port}/"

    yield start
    for process in running:
        process.terminate()
        process.wait(10)


def wait_for(address: str, text: str, seconds: float = 60) -> str:
    """The page at an address, once it is there and holds `text`."""
    end = time.monotonic() + seconds
    seen = ""
    while time.monotonic() < end:
        try:
            with urllib.request.urlopen(address, timeout=5) as answer:
                seen = answer.read().decode("utf-8")
        except OSError:
            seen = ""
        if text in seen:
            return seen
        time.sleep(0.3)
    pytest.fail(f"no “{text}” at {address}; last seen: {seen[:500]}")


def test_serving_shows_a_wrong_key_at_its_page_and_goes_on(served: Callable[[dict[str, str]], str], tmp_path: Path) -> None:
    address = served({"below/lock.md": WRONG, "table/half.md": UNREADABLE, "table/hostile.md": HOSTILE})
    page = wait_for(f"{address}below/lock/", "ev-fault")
    assert "below/lock.md:3:6" in page
    assert "ev-answer" not in page
    assert "table/half.md:2:" in wait_for(f"{address}table/half/", "ev-fault")
    assert "needs mending" in wait_for(f"{address}below/", "ev-row")
    hostile = wait_for(f"{address}table/hostile/", "ev-fault")
    article = hostile[hostile.index("<article") : hostile.index("</article>")]
    assert not re.search(r"<(script|img|b)\b|javascript:[^<]*\">", article)
    (tmp_path / "content" / "below" / "lock.md").write_text(dedent(BOOK["below/lock.md"]), "utf-8")
    assert "ev-fault" not in wait_for(f"{address}below/lock/", "ev-answer")
