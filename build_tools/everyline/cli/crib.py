"""`everyline crib`: the teacher's private sheet of a lesson. It never becomes part of the site."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from .shared import RIGHT, WRONG, Commands, count, failed, form_of, misused, unused

_FORMS = ("text", "md", "tex", "pdf")


def add(commands: Commands) -> None:
    crib = commands.add_parser("crib", help="print the teacher's sheet of a lesson: timing, what to ask, keys, worked solutions")
    crib.add_argument("lesson", metavar="LESSON", help="a file of the folder lessons, or its name")
    crib.add_argument("--book", default="content", metavar="DIR", help="the book's folder (default: content)")
    crib.add_argument("--format", choices=_FORMS, help="default: as the name after --out ends, else text")
    crib.add_argument("--paper", choices=("a4", "letter"), default="a4")
    crib.add_argument("--out", metavar="FILE", help="where to write it (default: the screen; a PDF needs a name)")
    crib.add_argument("--replace", action="store_true", help="write over a file of an earlier run")
    crib.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    crib.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book import build
    from ..book.memory import memory_of
    from ..diagnostics.formats import text as as_text
    from ..language import translator
    from ..render.crib import crib
    from ..render.paper.written import written
    from ..source.load import load
    from ..source.save import save_over

    try:
        form = form_of(options, _FORMS)
        unused([Path(options.out)] if options.out else [], over=options.replace)
        sources = load(Path(options.book))
        book = build(sources, workers=options.workers, memory=memory_of(Path(options.book)))
        name = Path(options.lesson).name.removesuffix(".md")
        lesson = next((lesson for lesson in book.lessons if lesson.slug == name), None)
        if lesson is None:
            known = ", ".join(lesson.slug for lesson in book.lessons) or "none"
            return misused(f"this book has no lesson {name!r}; it has: {known}")
        tell = translator(book.conventions.language)
        if not book.sound:
            print(as_text.render(book.errors, sources, root=f"{options.book}/", tell=tell), end="", file=sys.stderr)
            return WRONG
        made = written(crib(lesson, book), form, options.paper)
        if options.out is None:
            print(made.decode("utf-8"), end="")
        else:
            save_over(Path(options.out), made)
            print(tell("Written: {files}", files=options.out))
    except (OSError, ValueError) as error:
        return failed(error, options.book)
    return RIGHT
