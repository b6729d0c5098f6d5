"""What a person at a terminal sees of a check, and what nobody sees where the output goes elsewhere."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from commands import everyline

from everyline.cli import progress

WRONG = "---\nquestion: \\int 2x \\, dx\nkey: x + C\n---\n"
RIGHT = "---\nquestion: \\int 2x \\, dx\nkey: x^2 + C\n---\n"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    files = {"book.yml": "log: natural\n", "a/index.md": "---\ntitle: A\norder: 1\n---\n", "a/wrong.md": WRONG, "a/right.md": RIGHT}
    for name, text in files.items():
        (tmp_path / "content" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "content" / name).write_text(text)
    return tmp_path


def at_a_terminal(folder: Path, *arguments: str, **environment: str) -> str:
    """All that `everyline check` writes when output and errors go to a terminal."""
    pty = pytest.importorskip("pty", reason="this system has no terminals that a test can open")
    ours, theirs = pty.openpty()
    said = bytearray()

    def listen() -> None:
        try:
            while part := os.read(ours, 4096):
                said.extend(part)
        except OSError:  # Linux says so when the other end is closed
            pass

    listener = threading.Thread(target=listen)
    listener.start()
    plain = {name: value for name, value in os.environ.items() if name != "NO_COLOR"}
    command = [sys.executable, "-m", "everyline.cli", "check", *arguments]
    subprocess.run(command, cwd=folder, env=plain | environment, stdout=theirs, stderr=theirs, check=False, timeout=120)
    os.close(theirs)
    listener.join(10)
    os.close(ours)
    return said.decode("utf-8")


@pytest.mark.parametrize(
    ("environment", "colours"),
    [({}, True), ({"NO_COLOR": ""}, True), ({"NO_COLOR": "1"}, False)],
    ids=["a terminal", "NO_COLOR set to nothing", "NO_COLOR"],
)
def test_colours_are_for_a_terminal_whose_owner_wants_them(book: Path, environment: dict[str, str], colours: bool) -> None:
    """no-color.org: present and not an empty string, whatever its value, it prevents colours."""
    said = at_a_terminal(book, **environment)
    assert "content/a/wrong.md:3:6" in said.replace("\x1b", "")
    assert bool(re.search(r"\x1b\[[\d;]*m", said)) is colours


def test_what_goes_to_a_file_has_no_colours_and_no_bar(book: Path) -> None:
    done = everyline(book, "check")
    assert done.returncode == 1
    assert "\x1b" not in done.stdout + done.stderr
    assert "\r" not in done.stdout + done.stderr
    assert done.stdout.rstrip().endswith("2 problems; 1 of 2 keys right.")


def test_quiet_says_errors_and_nothing_else(book: Path) -> None:
    assert "keys right" not in at_a_terminal(book, "-q", NO_COLOR="1")
    (book / "content" / "a" / "wrong.md").unlink()
    assert at_a_terminal(book, "-q") == ""


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_bar_grows_while_a_long_check_runs_and_is_gone_at_its_end(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [100.0]
    monkeypatch.setattr(progress.time, "monotonic", lambda: now[0])
    screen = Terminal()
    monkeypatch.setattr(sys, "stderr", screen)
    show = progress.bar()
    for done in range(1, 5):
        now[0] += 0.6
        show(done, 4)
    assert screen.getvalue() == f"\r{'█' * 15}{'·' * 15} 2 of 4 problems\r{'█' * 22}{'·' * 8} 3 of 4 problems\r\033[K"


@pytest.mark.parametrize(("quiet", "screen"), [(True, Terminal()), (False, io.StringIO())], ids=["quiet", "no terminal"])
def test_no_bar_where_nobody_wants_it(monkeypatch: pytest.MonkeyPatch, quiet: bool, screen: io.StringIO) -> None:
    monkeypatch.setattr(sys, "stderr", screen)
    show = progress.bar(quiet)
    monkeypatch.setattr(progress.time, "monotonic", lambda: 1e9)
    show(1, 2)
    assert screen.getvalue() == ""
