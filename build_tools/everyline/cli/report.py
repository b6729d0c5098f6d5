"""`everyline report`: what a book has and lacks."""

from __future__ import annotations

import argparse
import json
import os
from pathlib import Path

from .shared import RIGHT, Commands, count, failed


def add(commands: Commands) -> None:
    report = commands.add_parser("report", help="what a book has and lacks: coverage, gaps, near-duplicates, sources")
    report.add_argument("book", nargs="?", default="content", metavar="DIR", help="the book's folder (default: content)")
    report.add_argument("--format", choices=("text", "json"), default="text")
    report.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    report.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book import read_and_build
    from ..book.memory import memory_of
    from ..book.report import report
    from ..render.report import as_text

    try:
        book, _ = read_and_build(Path(options.book), workers=options.workers, memory=memory_of(Path(options.book)))
    except OSError as error:
        return failed(error, options.book)
    found = report(book)
    print(json.dumps(found.as_data(), ensure_ascii=False, indent=2) if options.format == "json" else as_text(found, book))
    return RIGHT
