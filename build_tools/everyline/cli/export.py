"""`everyline export`: the whole book as plain Markdown and files."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from .books import book_of
from .shared import RIGHT, WRONG, Commands, misused


def add(commands: Commands) -> None:
    export = commands.add_parser("export", help="the whole book as plain Markdown and files, for another site generator")
    export.add_argument("target", metavar="DIR", help="a new folder")
    export.add_argument("--content", metavar="FOLDER", default="content", help="the book (default: content)")
    export.add_argument("--without-answers", action="store_true", help="questions only")
    export.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..adapters.export import export
    from ..adapters.making import Wanted, make
    from ..book.memory import FOLDER
    from ..render.repository import Repository

    try:
        root, _ = book_of([Path(options.content)])
        wanted = Wanted(root, root.parent / FOLDER, Repository(), answers=not options.without_answers)
        found = make(wanted, None, faulty=False)
    except (OSError, ValueError) as error:
        print(f"everyline: {error}", file=sys.stderr)
        return WRONG
    try:
        count = export(root, found.site, found.assets, found.book.conventions.title, Path(options.target))
    except OSError as error:
        return misused(str(error))
    print(f"{count} pages in {options.target}. To build them: mkdocs build -f {options.target}/mkdocs.yml")
    return RIGHT
