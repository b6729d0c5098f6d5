"""`everyline check`: the problem files of a book."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from .books import book_of, shown_root
from .shared import RIGHT, WRONG, Commands, count, misused

if TYPE_CHECKING:
    from ..book.data import Book


def add(commands: Commands) -> None:
    check = commands.add_parser("check", help="check the problem files of a book")
    check.add_argument("paths", nargs="*", metavar="PATH", help="a book's folder, or files and folders in it (default: content)")
    check.add_argument("--format", choices=("text", "json"), default="text")
    check.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    check.add_argument(
        "-v", "--verbose", action="store_true", help="show every notice and every fault, also where there are many of a kind"
    )
    check.add_argument("--no-cache", action="store_true", help="examine everything anew, and keep nothing")
    check.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book import build
    from ..book.memory import memory_of
    from ..diagnostics.formats import json as as_json
    from ..diagnostics.formats import text as as_text
    from ..source.load import load

    try:
        root, only = book_of([Path(path) for path in options.paths])
        sources = load(root)
    except (OSError, ValueError) as error:
        return misused(str(error))
    memory = None if options.no_cache else memory_of(root)
    made = build(sources, workers=options.workers, only=only, memory=memory)
    problems, keys, right = _counts(made)
    if options.format == "json":
        print(as_json.render(made.diagnostics, summary={"problems": problems, "keys": keys, "right": right}), end="")
    else:
        colour = sys.stdout.isatty() and "NO_COLOR" not in os.environ
        print(
            as_text.render(made.diagnostics, sources, colour=colour, root=shown_root(root), brief=only is None and not options.verbose),
            end="",
        )
        print(f"{problems} problem{'' if problems == 1 else 's'}; {right} of {keys} keys right.")
    return RIGHT if made.sound else WRONG


def _counts(made: Book) -> tuple[int, int, int]:
    """Problems, keys, and keys that are right."""
    verdicts = [verdict for examined in made.examined for verdict in examined.keys]
    return len(made.examined), len(verdicts), sum(verdict.right for verdict in verdicts)
