"""Problem files from people who mean harm: nothing of them is run, nothing outside the book is read, each gets a clear error, and soon."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hostile import files, problem

#: Runs the check and notes whatever a harmless check never does. The hook is there in the workers, too, for they are forked.
WATCHED = """
import os, sys
from everyline.cli import main
root, notes = sys.argv[1], sys.argv[2]
def watch(event, arguments):
    bad = event in ("os.system", "os.exec", "os.posix_spawn", "subprocess.Popen", "socket.connect", "shutil.rmtree", "os.remove")
    if event == "open" and isinstance(arguments[0], (str, bytes)):
        path = os.path.realpath(os.fsdecode(arguments[0]))
        inside, beside = path.startswith(root + os.sep), path.startswith(os.path.dirname(root) + os.sep)
        bad = path != notes and (beside and not inside or path == "/etc/passwd")
    if bad:
        with open(notes, "a") as file:
            file.write(f"{event} {arguments}\\n")
sys.addaudithook(watch)
sys.exit(main(["check", root, "--format", "json", "--no-cache", "--workers", "2"]))
"""
#: Codes that would mean that we did not see it coming.
LATE = {"internal", "out-of-time"}


def check(root: Path, notes: Path) -> tuple[subprocess.CompletedProcess[str], float]:
    start = time.monotonic()
    call = [sys.executable, "-c", WATCHED, str(root), str(notes)]
    ran = subprocess.run(call, cwd=root, capture_output=True, text=True, encoding="utf-8", check=False, timeout=300)
    return ran, time.monotonic() - start


@pytest.mark.slow
def test_two_hundred_hostile_files(tmp_path: Path) -> None:
    root, notes = (tmp_path / "book").resolve(), (tmp_path / "notes").resolve()
    chapter = root / "powers"
    chapter.mkdir(parents=True)
    (root / "book.yml").write_text("log: natural\n")
    (chapter / "index.md").write_text("---\ntitle: Powers\norder: 1\n---\n")
    texts = list(files())
    assert len(texts) >= 200
    for number, text in enumerate(texts):
        (chapter / f"p{number:03}.md").write_text(text, "utf-8")
    ran, _ = check(root, notes)
    assert ran.returncode == 1
    assert "Traceback" not in ran.stderr
    said: dict[str, set[str]] = {}
    for fault in json.loads(ran.stdout)["diagnostics"]:
        if fault["severity"] == "error":
            said.setdefault(fault["where"]["path"], set()).add(fault["code"])
    silent = [text[:120] for number, text in enumerate(texts) if not said.get(f"powers/p{number:03}.md", LATE) - LATE]
    assert silent == []
    assert not notes.exists(), notes.read_text()
    assert not list(tmp_path.rglob("WITNESS"))


@pytest.mark.skipif(os.name != "posix", reason="links and pipes as POSIX has them")
def test_files_that_are_ways_out_of_the_book_are_not_followed(tmp_path: Path) -> None:
    secret = "the-secret-of-the-house"
    outside, root = tmp_path / "outside", (tmp_path / "book").resolve()
    (root / "powers").mkdir(parents=True)
    (root / "book.yml").write_text("log: natural\n")
    (root / "powers" / "index.md").write_text("---\ntitle: Powers\norder: 1\n---\n")
    outside.mkdir()
    (outside / "key.md").write_text(problem(key=secret))
    (root / "powers" / "file.md").symlink_to(outside / "key.md")
    (root / "powers" / "passwords.md").symlink_to("/etc/passwd")
    (root / "powers" / "nowhere.md").symlink_to("nowhere")
    (root / "powers" / "itself.md").symlink_to("itself.md")
    (root / "folder").symlink_to(outside)
    (root / "up").symlink_to("..")
    (root / "again").symlink_to("powers")
    os.mkfifo(root / "powers" / "pipe.md")
    (root / "powers" / "folder.md").mkdir()
    (root / "powers" / "a\nb.md").write_text(problem())
    notes = (tmp_path / "notes").resolve()
    ran, seconds = check(root, notes)
    assert (ran.returncode, seconds < 60) == (1, True)
    found = {(d["where"]["path"], d["code"]) for d in json.loads(ran.stdout)["diagnostics"]}
    refused = {path for path, code in found if code == "file-refused"}
    wanted = {"powers/file.md", "powers/passwords.md", "powers/nowhere.md", "powers/itself.md", "folder", "up", "again", "powers/pipe.md"}
    assert wanted <= refused
    assert secret not in ran.stdout + ran.stderr
    assert "root:" not in ran.stdout
    assert not notes.exists(), notes.read_text()
