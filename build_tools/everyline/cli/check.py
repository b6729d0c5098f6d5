"""`everyline check`: the problem files of a book."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from .shared import RIGHT, WRONG, Commands, count, misused

if TYPE_CHECKING:
    from ..book.data import Book


def add(commands: Commands) -> None:
    check = commands.add_parser("check", help="check the problem files of a book")
    check.add_argument("paths", nargs="*", metavar="PATH", help="a book's folder, or files and folders in it (default: content)")
    check.add_argument("--format", choices=("text", "json"), default="text")
    check.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    check.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book import build
    from ..diagnostics.formats import json as as_json
    from ..diagnostics.formats import text as as_text
    from ..source.load import load

    try:
        root, only = _book_of([Path(path) for path in options.paths])
        sources = load(root)
    except (OSError, ValueError) as error:
        return misused(str(error))
    made = build(sources, workers=options.workers, only=only)
    shown = root.relative_to(Path.cwd()).as_posix() + "/" if root.is_relative_to(Path.cwd()) else root.as_posix() + "/"
    problems, keys, right = _counts(made)
    if options.format == "json":
        print(as_json.render(made.diagnostics, summary={"problems": problems, "keys": keys, "right": right}), end="")
    else:
        colour = sys.stdout.isatty() and "NO_COLOR" not in os.environ
        print(as_text.render(made.diagnostics, sources, colour=colour, root=shown), end="")
        print(f"{problems} problem{'' if problems == 1 else 's'}; {right} of {keys} keys right.")
    return RIGHT if made.sound else WRONG


def _book_of(paths: Sequence[Path]) -> tuple[Path, list[str] | None]:
    """The content folder that the paths belong to, and the files in it that they name (None: the whole book).

    Raises:
        ValueError: a path that is not there, or that lies in no book, or in another one.
    """
    if not paths:
        paths = [Path("content")]
    for path in paths:
        if not path.exists():
            raise ValueError(f"{path} is not there")
    roots = {_root_of(path.resolve()) for path in paths}
    if len(roots) > 1:
        raise ValueError("these paths belong to different books; check them one after the other")
    root = roots.pop()
    if any(path.resolve() == root for path in paths):
        return root, None
    files = [f for path in paths for f in (sorted(path.rglob("*.md")) if path.is_dir() else [path])]
    return root, [file.resolve().relative_to(root).as_posix() for file in files]


def _root_of(path: Path) -> Path:
    """The nearest folder at or above a path that has a book.yml; without one, the path's own folder, or its parent for a chapter."""
    folder = path if path.is_dir() else path.parent
    for above in (folder, *folder.parents):
        if (above / "book.yml").is_file():
            return above
    return folder.parent if (folder / "index.md").is_file() and any(folder.parent.glob("*/index.md")) and path.is_file() else folder


def _counts(made: Book) -> tuple[int, int, int]:
    """Problems, keys, and keys that are right."""
    verdicts = [verdict for examined in made.examined for verdict in examined.keys]
    return len(made.examined), len(verdicts), sum(verdict.right for verdict in verdicts)
