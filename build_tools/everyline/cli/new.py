"""`everyline new`: a problem from its formula, or many from a list. Only what is proved is written, and nothing is written over."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from .shared import RIGHT, WRONG, Commands, agreed, count, failed, misused, width

if TYPE_CHECKING:
    from ..book.collecting import Result, Row
    from ..book.desk import Desk
    from ..language import Tell


def add(commands: Commands) -> None:
    new = commands.add_parser("new", help="write a problem file, or many from a list of questions and answers")
    new.add_argument("question", nargs="?", help=r"such as '\int 6x \, dx'; without it you are asked")
    new.add_argument("--from", dest="list", metavar="FILE", help="a list: .csv, or .jsonl with one row of JSON a line")
    new.add_argument("--chapter", help="the chapter's folder (of a list: where a row names none; default there: the list's name)")
    new.add_argument("--key", action="append", default=[], help="the answer key; left out, it is worked out")
    for name, about in (("title", "the page's title"), ("level", "1, 2 or 3"), ("given", "such as 'a > 0'"), ("domain", "such as 'x > 0'")):
        new.add_argument(f"--{name}", default="", help=about)
    for name in ("author", "source", "license"):
        new.add_argument(f"--{name}", default="", help=f"the {name} that the file names (of a list: where a row names none)")
    new.add_argument("--book", default="content", metavar="DIR", help="the book's folder (default: content)")
    new.add_argument("--seconds", type=float, default=10.0, help="the most that one question may take (default: 10)")
    new.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    new.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book.desk import Desk

    try:
        return _listed(options) if options.list else _one(options, Desk.at(Path(options.book)))
    except EOFError:
        return misused("nothing was written: the questions were not answered to the end")
    except (OSError, ValueError) as error:
        return failed(error, options.book)


def _one(options: argparse.Namespace, desk: Desk) -> int:
    from ..book.collecting import Row
    from ..book.drafting import Draft
    from ..language import translator
    from ..render.terminal import worked

    asking = options.question is None
    tell = translator(desk.conventions.language)
    chapters = ", ".join(desk.chapters) or tell("none yet")

    def asked(label: str) -> str:
        return input(f"{label}: ").strip() if asking else ""

    chapter = options.chapter or asked(tell("Chapter ({chapters})", chapters=chapters))
    if not chapter:
        raise ValueError(f"name a chapter with --chapter; there are: {chapters}")
    begun = _begun(chapter, desk)
    question = options.question or asked(tell("Question, such as {example}", example=r"\int 6x \, dx"))
    keys = tuple(options.key) or tuple(filter(None, [asked(tell("Key (empty: work it out)"))]))
    title = options.title or asked(tell("Title (empty: the question in words)"))
    level = options.level or asked(tell("Level, 1 to 3 (empty: 1)"))
    said = {name: getattr(options, name) for name in ("given", "domain", "author", "source", "license")}
    row = Row(1, Draft(question, keys, title, level, **said), begun or chapter)
    made = desk.examined(row, options.seconds)
    if made.examined is not None and made.examined.derivation is not None:
        print(worked(made.examined.derivation, everything=True, width=width(), tell=tell), end="\n\n")
    (result,) = desk.collected([row], options.seconds, 1) if made.proved else (desk.refused(row, made.why),)
    if not result.path:
        print(tell("Nothing was written: {why}", why=result.said(tell)), file=sys.stderr)
        return WRONG
    print(result.data.decode("utf-8"))
    if asking and not agreed(tell("Write this as {file}?", file=desk.shown(result.path)), tell):
        return RIGHT
    desk.write(result)
    begins = tell("A new chapter: {file} holds its title.", file=f"{desk.shown(begun)}/index.md") if begun else ""
    print("\n".join(filter(None, (result.said(tell), begins, tell("Written: {files}", files=desk.shown(result.path))))))
    return RIGHT


def _begun(chapter: str, desk: Desk) -> str:
    """The folder of a chapter that the book does not have yet; empty for one that it has.

    Raises:
        ValueError: the name is nearly that of another chapter, and nobody has made a folder for it.
    """
    from ..book.collecting import chapter_name
    from ..source.fields import nearest

    if chapter in desk.chapters:
        return ""
    meant = nearest(chapter, desk.chapters)
    if meant and not (desk.root / chapter).is_dir():
        raise ValueError(
            f"this book has no chapter {chapter!r}; did you mean {meant}? For a new chapter of that name make its folder first."
        )
    return chapter_name(chapter)


def _listed(options: argparse.Namespace) -> int:
    from ..book.collecting import report_table
    from ..book.desk import Desk
    from ..language import translator
    from ..source.save import save_new

    file = Path(options.list)
    rows = _rows(options, file)
    desk = Desk.at(Path(options.book), make=True)
    tell = translator(desk.conventions.language)
    results = []
    for result in desk.collected(rows, options.seconds, options.workers):
        if result.path:
            desk.write(result)
        results.append(result)
        print(_line(result, desk, tell), flush=True)
    report = next(p for n in range(1, 10_000) if not (p := file.with_name(f"{file.stem}-report{f'-{n}' if n > 1 else ''}.csv")).exists())
    save_new(report, report_table(results, tell))
    written = sum(bool(result.path) for result in results)
    print(tell("{count} of {all} written; the others are in {report}, row by row.", count=written, all=len(results), report=report))
    return RIGHT if written == len(results) else WRONG


def _rows(options: argparse.Namespace, file: Path) -> list[Row]:
    """The rows of the list, with what the options say where a row says nothing."""
    from dataclasses import replace

    from ..book.collecting import chapter_name, read_list

    rows = []
    for row in read_list(file.read_bytes(), file.name):
        said = {name: getattr(row.draft, name) or getattr(options, name) for name in ("author", "source", "license", "level")}
        chapter = chapter_name(row.chapter or options.chapter or file.stem)
        rows.append(replace(row, draft=replace(row.draft, **said), chapter=chapter))
    return rows


def _line(result: Result, desk: Desk, tell: Tell) -> str:
    from ..diagnostics.formats.text import visible

    said = visible(result.said(tell))
    if not result.path:
        return tell("line {line}: not written: {why}", line=result.row.line, why=said)
    return tell("line {line}: written as {file}", line=result.row.line, file=desk.shown(result.path)) + (f"; {said}" if said else "")
