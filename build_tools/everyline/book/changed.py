"""Which files of a book have changed, as Git knows it."""

from __future__ import annotations

import subprocess
from pathlib import Path


class NoGit(ValueError):
    """Git is not there, the book is not in a repository, or the name of the base is not known; the text says which."""


def changed(root: Path, base: str) -> list[str] | None:
    """The files under `root`, relative to it, that differ from where the work parted from `base`, and those new to Git.

    None: the whole book, because its conventions or a chapter's page changed and with them what may be used in other files.

    Raises:
        NoGit: Git could not answer.
    """
    start = _git(root, "merge-base", "--end-of-options", base, "HEAD").strip()
    said = _git(root, "diff", "--name-only", "-z", "--relative", "--diff-filter=d", start, "--", ".")
    said += _git(root, "ls-files", "-z", "--others", "--exclude-standard", "--", ".")
    gone = _git(root, "diff", "--name-only", "-z", "--relative", "--diff-filter=D", start, "--", ".")
    paths = sorted({path for path in said.split("\0") if path.endswith(".md") or path == "book.yml"})
    common = [path for path in (*paths, *gone.split("\0")) if path == "book.yml" or path.endswith("/index.md")]
    return None if common else paths


def _git(root: Path, *arguments: str) -> str:
    try:
        done = subprocess.run(["git", "-C", root, *arguments], capture_output=True, text=True, encoding="utf-8", check=False)
    except OSError:
        raise NoGit("--changed asks Git what has changed, and there is no Git here") from None
    if done.returncode != 0:
        raise NoGit(
            f"Git could not say what has changed: {done.stderr.strip().splitlines()[0] if done.stderr.strip() else 'no reason given'}"
        )
    return done.stdout
