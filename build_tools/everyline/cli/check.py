"""`everyline check`: the problem files of a book."""

from __future__ import annotations

import argparse
import os
import sys
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING

from .books import book_of, shown_root
from .progress import bar
from .shared import RIGHT, WRONG, Commands, coloured, count, failed

if TYPE_CHECKING:
    from ..book.data import Book
    from ..source.load import Sources


def add(commands: Commands) -> None:
    check = commands.add_parser("check", help="check the problem files of a book")
    check.add_argument("paths", nargs="*", metavar="PATH", help="a book's folder, or files and folders in it (default: content)")
    check.add_argument("--format", choices=("text", "json", "github", "sarif"), default="text", help="how the faults are written")
    check.add_argument(
        "--changed", nargs="?", const="HEAD", metavar="BASE", help="only what has changed since BASE parted (default: the last commit)"
    )
    check.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    check.add_argument("--dask", metavar="ADDRESS", help="examine on a Dask cluster, such as tcp://127.0.0.1:8786 (extra: everyline[dask])")
    check.add_argument("--no-cache", action="store_true", help="examine everything anew, and keep nothing")
    volume = check.add_mutually_exclusive_group()
    volume.add_argument(
        "-v", "--verbose", action="store_true", help="show every notice and every fault, also where there are many of a kind"
    )
    volume.add_argument("-q", "--quiet", action="store_true", help="show errors only, and nothing when all is right")
    check.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book import build
    from ..book.changed import changed
    from ..book.elsewhere import dask
    from ..book.memory import memory_of
    from ..source.load import load

    try:
        root, only = book_of([Path(path) for path in options.paths])
        if options.changed is not None:
            differ = changed(root, options.changed)
            only = only if differ is None else [path for path in differ if only is None or path in only]
        sources = load(root)
        executor = dask(options.dask) if options.dask else None
    except (OSError, ValueError) as error:
        return failed(error, "content")
    memory = None if options.no_cache else memory_of(root)
    made = build(sources, workers=options.workers, only=only, memory=memory, progress=bar(options.quiet), executor=executor)
    sys.stdout.write(written(made, sources, options, shown_root(root), brief=only is None and not options.verbose))
    return RIGHT if made.sound else WRONG


def written(made: Book, sources: Sources, options: argparse.Namespace, root: str, *, brief: bool) -> str:
    """What is said of a book, in its language, in the format that was asked for."""
    from ..diagnostics.formats import github, json, sarif, text
    from ..language import translator

    tell = translator(made.conventions.language)
    faults = [d for d in made.diagnostics if d.severity == "error" or not options.quiet]
    problems, keys, right = _counts(made)
    match options.format:
        case "json":
            return json.render(faults, summary={"problems": problems, "keys": keys, "right": right}, tell=tell)
        case "sarif":
            return sarif.render(faults, root=root, version=metadata.version("everyline"), tell=tell)
        case "github":
            shown = github.render(faults, root=root, tell=tell)
        case _:
            shown = text.render(faults, sources, colour=coloured(), root=root, brief=brief, tell=tell)
    if options.quiet:
        return shown if faults else ""
    counted = tell("{count} problem" if problems == 1 else "{count} problems", count=problems)
    return shown + tell("{problems}; {right} of {keys} keys right.", problems=counted, right=right, keys=keys) + "\n"


def _counts(made: Book) -> tuple[int, int, int]:
    """Problems, keys, and keys that are right."""
    verdicts = [verdict for examined in made.examined for verdict in examined.keys]
    return len(made.examined), len(verdicts), sum(verdict.right for verdict in verdicts)
