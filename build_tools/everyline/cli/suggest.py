"""`everyline suggest`: contrasts that a book could have."""

from __future__ import annotations

import argparse
import json
import os
from pathlib import Path

from .shared import RIGHT, Commands, count, failed


def add(commands: Commands) -> None:
    suggest = commands.add_parser("suggest", help="pairs of problems that look alike and need different methods, and two-method questions")
    suggest.add_argument("book", nargs="?", default="content", metavar="DIR", help="the book's folder (default: content)")
    suggest.add_argument("--count", type=count, default=12, metavar="N", help="how many to show (default: 12)")
    suggest.add_argument("--format", choices=("text", "json"), default="text")
    suggest.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    suggest.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book import read_and_build
    from ..book.memory import memory_of
    from ..book.suggest import suggestions
    from ..language import translator
    from ..render.suggested import as_text

    folder = Path(options.book)
    try:
        book, _ = read_and_build(folder, workers=options.workers, memory=memory_of(folder))
    except OSError as error:
        return failed(error, options.book)
    found = suggestions(book)[: options.count]
    tell = translator(book.conventions.language)
    if options.format == "json":
        print(json.dumps([each.as_data(tell) for each in found], ensure_ascii=False, indent=2))
    else:
        print(as_text(found, book, tell))
    return RIGHT
