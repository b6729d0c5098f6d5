"""`everyline mark`: a class's answers, each with the checker's word on it. Nothing leaves this computer."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from .shared import RIGHT, Commands, count, failed, unused

if TYPE_CHECKING:
    from ..book.asked import Asked
    from ..source.problem import Problem


def add(commands: Commands) -> None:
    mark = commands.add_parser("mark", help="mark a class's answers to a sheet, a chapter or some problems")
    mark.add_argument(
        "sheet", nargs="+", metavar="SHEET", help="a sheet's record (.json), a set, a chapter, or problems in the order asked"
    )
    mark.add_argument("answers", metavar="ANSWERS", help="a table (.csv): student, number or problem, version, answer, working")
    mark.add_argument("--book", default="content", metavar="DIR", help="the book's folder (default: content)")
    mark.add_argument("--out", metavar="NAME", help="how the files written are to begin (default: the answers' name)")
    mark.add_argument("--replace", action="store_true", help="write over files of an earlier run")
    mark.add_argument("--seconds", type=float, default=5.0, help="the most that one answer may take (default: 5)")
    mark.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    mark.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book.class_marks import mark_answers, marked_table, read_answers, summary, unread
    from ..language import translator
    from ..render.class_summary import as_text, picture, to_look_at
    from ..source.save import save_new, save_over

    source = Path(options.answers)
    start = Path(options.out) if options.out else source.with_suffix("")
    table, drawing = (start.with_name(start.name + end) for end in ("-marked.csv", "-summary.svg"))
    try:
        asked = sheet(Path(options.book), options.sheet, options.workers)
        unused((table, drawing), over=options.replace)
        answers = read_answers(source.read_bytes(), asked)
        marks = mark_answers(answers, asked.conventions, workers=options.workers, seconds=options.seconds)
        found = summary(answers, marks, asked)
        save = save_over if options.replace else save_new
        tell = translator(asked.conventions.language)
        save(table, marked_table(answers, marks, tell))
        save(drawing, picture(found, tell).encode("utf-8"))
    except (OSError, ValueError) as error:
        return failed(error, source)
    written = tell("Written: {table} and {picture}", table=table, picture=drawing)
    print("\n\n".join(filter(None, (as_text(found, tell), to_look_at(unread(answers, marks), tell), written))))
    return RIGHT


def sheet(root: Path, names: list[str], workers: int) -> Asked:
    """What the class was asked. A family that no record gives numbers for was asked as its page asks it.

    Raises:
        ValueError: the names belong to no problem of the book.
        OSError: a file cannot be read.
    """
    from ..book import build
    from ..book.asked import asked, chosen, from_record
    from ..book.assembly import listed
    from ..book.memory import memory_of
    from ..source.load import load

    sources = load(root)
    conventions, _, problems = listed(sources)

    def deal(paths: Sequence[str]) -> dict[str, Problem]:
        dealt = build(sources, workers=workers, only=paths, memory=memory_of(root)).examined if paths else ()
        return {examined.problem.path: examined.problem for examined in dealt}

    if len(names) == 1 and names[0].endswith(".json"):
        return from_record(Path(names[0]).read_bytes(), {problem.path: problem for problem in problems}, conventions, deal)
    inside = [_inside(name, root) for name in names]
    if len(names) == 1 and (path := f"sets/{inside[0].removeprefix('sets/').removesuffix('.md')}.md") in sources.composed:
        book = build(sources, workers=workers, memory=memory_of(root))  # a set is picked from all that is right
        inside = [name for made in book.sets if made.path == path for name in made.problems]
        if not inside:
            raise ValueError(f"{path} needs mending first: run everyline check")
    return asked(chosen(problems, inside), conventions, deal)


def _inside(name: str, book: Path) -> str:
    """A path as the book writes it, whether it was given from here or from inside the book."""
    here = Path(name)
    if here.exists() and here.resolve().is_relative_to(book.resolve()):
        return here.resolve().relative_to(book.resolve()).as_posix()
    return here.as_posix()
