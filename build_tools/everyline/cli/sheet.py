"""`everyline sheet`: a printed sheet of a set, a chapter or some problems, in one or several versions, with its key."""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from .books import site_of
from .shared import RIGHT, WRONG, Commands, count, failed, form_of, misused, unused

if TYPE_CHECKING:
    from ..book.data import Book
    from ..language import Tell

_FORMS = ("pdf", "tex", "md")


def add(commands: Commands) -> None:
    sheet = commands.add_parser("sheet", help="print a set, a chapter or some problems as a sheet")
    sheet.add_argument("names", nargs="+", metavar="NAME", help="a set, a chapter, or problems in the order wanted")
    sheet.add_argument("--book", default="content", metavar="DIR", help="the book's folder (default: content)")
    sheet.add_argument("--versions", type=_versions, default=("",), metavar="A,B,C", help="the versions, by their letters")
    sheet.add_argument("--seed", type=int, default=1, metavar="N", help="another number orders the versions otherwise (default: 1)")
    sheet.add_argument("--key", choices=("none", "short", "full"), default="none", help="answers or worked solutions (default: none)")
    sheet.add_argument("--apart", action="store_true", help="the key as a file of its own, named after the sheet, instead of behind it")
    sheet.add_argument("--paper", choices=("a4", "letter"), default="a4")
    sheet.add_argument("--room", type=_room, metavar="MM", help="room below every question (default: by its level)")
    sheet.add_argument("--title", help="what stands at the top (default: the name of the set or chapter)")
    sheet.add_argument("--format", choices=_FORMS, help="default: as the name after --out ends")
    sheet.add_argument("--out", metavar="FILE", help="where to write it; without it, tex and md are written to the screen")
    sheet.add_argument("--replace", action="store_true", help="write over files of an earlier run")
    sheet.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    sheet.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book.sheets import make_sheet, record, selection
    from ..language import translator
    from ..render.addresses import Addresses
    from ..render.paper.written import written
    from ..render.sheet import document, key_document

    try:
        form = form_of(options, _FORMS)
        book = _book(options)
        if book is None:
            return WRONG
        title, path, problems = selection(book, options.names)
        made = make_sheet(book, options.title or title, path, problems, options.versions, options.seed, worked=options.key == "full")
    except (OSError, ValueError) as error:
        return failed(error, options.book)
    behind = "none" if options.apart else options.key
    address, folders = site_of(Path(options.book))
    book = replace(book, conventions=replace(book.conventions, address=book.conventions.address or address))
    pages = {"": document(made, book, key=behind, room=options.room, addresses=Addresses(folders))}
    if options.apart and options.key != "none":
        pages["-key"] = key_document(made, book, key=options.key, addresses=Addresses(folders))
    try:
        bytes_of = {end: written(page, form, options.paper) for end, page in pages.items()}
    except ValueError as error:
        return misused(str(error))
    if options.out is None:
        print("\n".join(page.decode("utf-8") for page in bytes_of.values()), end="")
        return RIGHT
    return _saved(bytes_of, record(made).encode("utf-8"), Path(options.out), translator(book.conventions.language), over=options.replace)


def _saved(bytes_of: Mapping[str, bytes], record: bytes, out: Path, tell: Tell, *, over: bool) -> int:
    """The sheet's files, each by the end of its name, and beside them what stands where."""
    from ..source.save import save_over

    files = {out.with_name(f"{out.stem}{end}{out.suffix}"): data for end, data in bytes_of.items()}
    files[out.with_suffix(".json")] = record
    try:
        unused(files, over=over)
        for file, data in files.items():
            save_over(file, data)
    except (OSError, ValueError) as error:
        return failed(error, out)
    print(tell("Written: {files}", files=", ".join(map(str, files))))
    return RIGHT


def _book(options: argparse.Namespace) -> Book | None:
    """The book, with no more of it examined than the sheet needs; None where that has errors, which are shown."""
    from ..book import build
    from ..book.memory import memory_of
    from ..diagnostics.formats import text as as_text
    from ..language import translator
    from ..source.load import load

    sources = load(Path(options.book))
    needed = _needed(options.names, sources.problems, sources.composed)
    book = build(sources, workers=options.workers, only=needed, memory=memory_of(Path(options.book)))
    if not book.sound:
        tell = translator(book.conventions.language)
        print(as_text.render(book.errors, sources, root=f"{options.book}/", tell=tell), end="", file=sys.stderr)
        return None
    return book


def _needed(names: list[str], problems: Mapping[str, bytes], composed: Mapping[str, bytes]) -> list[str] | None:
    """The problems that the names can mean; None (all of them) for a set, whose choice depends on every problem.

    Raises:
        ValueError: a name means nothing in the book.
    """
    from ..book.sheets import asked_for
    from ..source.fields import nearest

    stems = [asked_for(name) for name in names]
    sets = {Path(path).stem for path in composed if path.startswith("sets/")}
    known = {*sets, *(path.removesuffix(".md") for path in problems), *(path.rsplit("/", 1)[0] for path in problems)}
    for stem in stems:
        if stem.removeprefix("sets/") not in known:
            meant = nearest(stem, known)
            raise ValueError(f"this book has no set, chapter or problem {stem!r}" + (f"; did you mean {meant}?" if meant else ""))
    if any(f"sets/{stem.removeprefix('sets/')}.md" in composed for stem in stems):
        return None
    return [path for path in problems if path.rsplit("/", 1)[0] in stems or path.removesuffix(".md") in stems]


def _versions(text: str) -> tuple[str, ...]:
    labels = tuple(part.strip() for part in text.split(","))
    if not all(re.fullmatch(r"\w{1,8}", label) for label in labels) or len(set(labels)) < len(labels) or len(labels) > 26:
        raise argparse.ArgumentTypeError("letters with commas between them, each once, such as A,B,C")
    return labels


def _room(text: str) -> int:
    if not text.isdecimal() or int(text) > 250:
        raise argparse.ArgumentTypeError("a whole number of millimetres, at most 250")
    return int(text)
