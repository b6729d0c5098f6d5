"""`everyline export`: the whole book as plain Markdown and files, which other site generators can build."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from .shared import RIGHT, WRONG, Commands, failed, misused

if TYPE_CHECKING:
    from ..render.assets import Asset


def add(commands: Commands) -> None:
    export = commands.add_parser("export", help="write the whole book as plain Markdown and files, for another site generator")
    export.add_argument("folder", metavar="DIR", help="where to: a folder that is new or empty")
    export.add_argument("--book", default="content", metavar="DIR", help="the book's folder (default: content)")
    export.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..adapters.making import Wanted, make
    from ..book.memory import FOLDER
    from ..language import translator
    from ..render.exported import SETTINGS, exported
    from ..render.repository import Repository

    target, content = Path(options.folder), Path(options.book)
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        return misused(f"{target} is there already; give the name of a new folder, or of an empty one")
    try:
        found = make(Wanted(content, content.resolve().parent / FOLDER, Repository(), folders=False), None, faulty=False)
        own, other = _texts(content), _files(content)
        made = list(exported(found.book.conventions, found.site, found.assets, own, other))
        for each in made:
            file = target / each.path
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(each.content)
    except ValueError as error:
        print(error, file=sys.stderr)
        return WRONG
    except OSError as error:
        return failed(error, content)
    pages = sum(each.path.endswith(".md") for each in made)
    tell = translator(found.book.conventions.language)
    print(tell("Written: {pages} pages and {others} other files in {folder}.", pages=pages, others=len(made) - pages, folder=target))
    first, second = (f"{program} build -f {target / SETTINGS}" for program in ("mkdocs", "zensical"))
    print(tell("To build it: {first}, or: {second}", first=first, second=second))
    return RIGHT


def _texts(content: Path) -> dict[str, str]:
    """The text of each Markdown file that is no problem and no page composed from some, by path, without its front matter."""
    from ..source.load import load
    from ..source.prose import text_of

    sources = load(content)
    theirs = {*sources.problems, *sources.composed}
    files = (file for file in _inside(content) if file.suffix == ".md")
    found = {file.relative_to(content).as_posix(): file for file in files}
    return {path: text_of(path, file.read_bytes()) for path, file in found.items() if path not in theirs or path.endswith("index.md")}


def _files(content: Path) -> list[Asset]:
    """Pictures and whatever else lies in the folder of a book."""
    from ..render.assets import Asset
    from ..source.load import BOOK_FILE

    files = {file.relative_to(content).as_posix(): file for file in _inside(content) if file.suffix != ".md"}
    return [Asset(path, file.read_bytes()) for path, file in files.items() if path != BOOK_FILE]


def _inside(content: Path) -> Iterator[Path]:
    """The files of a folder that are published: none that is hidden or begins with `_`, none that lies elsewhere."""
    for file in sorted(content.rglob("*")):
        hidden = any(part.startswith((".", "_")) for part in file.relative_to(content).parts)
        if file.is_file() and not hidden and file.resolve().is_relative_to(content.resolve()):
            yield file
