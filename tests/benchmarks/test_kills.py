"""Killed at any moment (SIGKILL), a check or a build harms nothing: the old site is whole until the new one is, and the next run is right.

EVERYLINE_KILLS=50 .venv/bin/pytest tests/benchmarks/test_kills.py -s -p no:xdist
"""

from __future__ import annotations

import hashlib
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from small_book import BOOK, write

KILLS = int(os.environ.get("EVERYLINE_KILLS", "0"))
pytestmark = pytest.mark.skipif(not KILLS or os.name != "posix", reason="a long benchmark: say how many in EVERYLINE_KILLS, such as 50")
BUILD = [sys.executable, "-m", "mkdocs", "build", "-q"]
CHECK = [sys.executable, "-m", "everyline.cli", "check", "--format", "json"]


def start(call: list[str], folder: Path) -> subprocess.Popen[str]:
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": "1800000000"}
    return subprocess.Popen(call, cwd=folder, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)


def tree(folder: Path) -> str:
    """A digest of the site; but for the teacher's report, which says how long things took, and for dates inside packed files."""
    said = hashlib.sha256()
    files = (path for path in folder.rglob("*") if path.is_file() and path.suffix not in (".gz", ".pdf"))
    for file in sorted(path for path in files if path.parent.name != "report"):
        said.update(f"{file.relative_to(folder)} ".encode() + hashlib.sha256(file.read_bytes()).digest())
    return said.hexdigest()


def texts(turn: int) -> dict[str, str]:
    """The book with another title in it each turn, so that there is always something to build."""
    return BOOK | {"below/lock.md": BOOK["below/lock.md"].replace("Filling the lock", f"Filling the lock, {turn % 2}")}


def timed(book: Path) -> float:
    """Seconds that a build takes just now: the next one is killed within as many."""
    begun = time.monotonic()
    assert start(BUILD, book).wait() == 0
    return time.monotonic() - begun


def test_killed_at_any_moment(tmp_path: Path) -> None:
    chance = random.Random(0)
    clean, results = [], []
    for turn in (0, 1):
        folder = tmp_path / f"clean-{turn}"
        write(folder, texts(turn))
        assert start(BUILD, folder).wait() == 0
        clean.append(tree(folder / "site"))
        results.append(start(CHECK, folder).communicate()[0])
    book = tmp_path / "book"
    write(book, texts(0))
    whole = timed(book)
    killed = late = 0
    for turn in range(1, KILLS + 1):
        write(book, texts(turn))
        building = turn % 3 > 0
        run = start(BUILD if building else CHECK, book)
        time.sleep(chance.uniform(0, whole))
        late += run.poll() is not None
        run.send_signal(signal.SIGKILL)
        run.communicate()
        killed += 1
        assert tree(book / "site") in clean, f"turn {turn}: the site is neither the old one nor the new one"
        if building:
            whole = timed(book)
            assert tree(book / "site") == clean[turn % 2], f"turn {turn}"
        else:
            assert start(CHECK, book).communicate()[0] == results[turn % 2], f"turn {turn}"
            whole = timed(book)
    print(f"\nkilled {killed} times, {late} of them after the end; every next run gave what a clean one gives")
    assert killed == KILLS
