"""Where new problems are laid before they go into a book: what is there already, and the one way in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from ..notation.message import Message
from ..source.load import BOOK_FILE, INDEX, RESERVED, Sources, load
from ..source.paths import spelt_out
from ..source.problem import Chapter, Conventions, Problem
from ..source.save import save_new
from ..source.writing import file_name
from .assembly import listed, taught
from .collecting import Result, Row, collect
from .drafting import Drafted, Drafting, drafted
from .words import stopped
from .workers import Limits, Overrun, run


@dataclass(frozen=True)
class Desk:
    """A book's folder with what it holds."""

    root: Path
    sources: Sources
    conventions: Conventions
    chapters_read: tuple[Chapter, ...]
    problems: tuple[Problem, ...]

    @classmethod
    def at(cls, root: Path, *, make: bool = False) -> Desk:
        """The desk of the book in a folder; with `make` a new book is begun where there is none.

        Raises:
            NoBook: there is no such folder.
            OSError: it cannot be read or made.
        """
        if make and not root.exists():
            root.mkdir(parents=True)
            save_new(root / BOOK_FILE, b"title: Practice book\n")
        sources = load(root)
        return cls(root, sources, *listed(sources))

    @property
    def chapters(self) -> tuple[str, ...]:
        return tuple(chapter.folder for chapter in self.chapters_read)

    def shown(self, path: str) -> str:
        """A path of the book as it is seen from here."""
        return (self.root / path).as_posix()

    def setting(self, row: Row, seconds: float) -> Drafting:
        allowed = taught(self.chapters_read, row.chapter)
        return Drafting(row.draft, row.chapter, self.conventions, allowed, seconds)

    def examined(self, row: Row, seconds: float) -> Drafted:
        """One draft, worked on in a process that is ended at its limit."""
        result = next(iter(run(drafted, [self.setting(row, seconds)], limits=Limits(4 * seconds + 5))))
        return Drafted(why=stopped(result.what)) if isinstance(result, Overrun) else result

    def collected(self, rows: Sequence[Row], seconds: float, workers: int) -> Iterator[Result]:
        """What becomes of every row; see `collect`."""
        settings = {row.chapter: self.setting(row, seconds) for row in rows}
        there = [file.relative_to(self.root).as_posix() for file in self.root.rglob("*.md")]
        return collect(rows, settings, [problem.question.value for problem in self.problems], there, workers=workers)

    def refused(self, row: Row, why: Message | None) -> Result:
        return Result(row, why=why)

    def write(self, result: Result) -> None:
        """Put a new file into the book, with its chapter where there is none yet. No file is ever written over.

        Raises:
            OSError: it cannot be written, or something is in its place already.
            ValueError: the place is not inside the book.
        """
        file = self.root / result.path
        folder = file.parent
        if not folder.resolve().is_relative_to(self.root.resolve()) or result.path.split("/")[0] in RESERVED:
            raise ValueError(f"{self.shown(result.path)} is not inside the book")
        folder.mkdir(parents=True, exist_ok=True)
        if not (folder / INDEX).exists():
            order = max((chapter.order for chapter in self.chapters_read), default=0) + 1
            save_new(folder / INDEX, f"---\ntitle: {spelt_out(file_name(folder.name))}\norder: {order}\n---\n".encode())
        save_new(file, result.data)
