"""`everyline solve`: a question worked out, or many as lines of JSON."""

from __future__ import annotations

import argparse
from pathlib import Path

from .books import language_of
from .rows import answer_rows
from .shared import RIGHT, WRONG, Commands, common, misused, width


def add(commands: Commands) -> None:
    solve = commands.add_parser("solve", help="work a question out, or many as lines of JSON")
    solve.add_argument("question", nargs="?", help=r"such as '\int 6x \, dx'")
    solve.add_argument("--all", action="store_true", help="every worked solution, and what does not help")
    solve.add_argument("--methods", metavar="NAMES", help="by these, in this order: division,linear-substitution")
    solve.add_argument("--u", metavar="FORMULA", help="with this substitution, such as x^2")
    solve.add_argument("--book", default="content", metavar="DIR", help="the book whose language is spoken (default: content)")
    common(solve)
    solve.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    if options.question is None:
        from ..book.rows import solve_line

        return answer_rows(options, solve_line, {"routes": []})
    if options.jsonl:
        return misused("solve takes a question, or --jsonl")
    from ..book.rows import Unreadable, derived, explained, wanted_methods
    from ..language import translator
    from ..notation import NotationError, plain
    from ..notation.message import fill
    from ..render.terminal import worked

    tell = translator(language_of(Path(options.book)))
    row = {"question": options.question, "given": options.given, "methods": options.methods, "u": options.u}
    try:
        found = derived(row, options.log, options.seconds)
        wanted = len(wanted_methods(row))
    except (NotationError, Unreadable) as error:
        return misused(fill(explained(error) if isinstance(error, NotationError) else error.why, plain, tell))
    print(worked(found, most=max(1, wanted), everything=options.all, width=width(), tell=tell))
    return RIGHT if found.routes and not found.refused else WRONG
