"""The one place where a book is read from disk. Only files inside its folder are read, and only so far."""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from .faults import Fault, RefusedFile
from .front import MAX_FILE
from .span import Lines, Place, Span

#: Folders of pages that a teacher composes from problems.
COMPOSED = frozenset({"contrasts", "sets", "lessons"})
RESERVED = COMPOSED | {"assets"}
BOOK_FILE = "book.yml"
INDEX = "index.md"
_NAME = re.compile(r"\w[\w.,+\- ]*")
_ASKS = re.compile(rb"\A(?:\xef\xbb\xbf)?---[ \t]*\r?\n(?:.*\n)*?question[ \t]*:")


@dataclass(frozen=True, slots=True)
class Sources:
    """The bytes of a book: problems and chapters by their path relative to the content folder, in order of path.

    `composed` are the files of the folders `contrasts`, `sets` and `lessons`, also by path. `faults` are files that were not read.
    A file over the size limit is cut one byte past it; the readers refuse it then.
    """

    problems: Mapping[str, bytes]
    chapters: Mapping[str, bytes]
    conventions: bytes | None = None
    faults: tuple[Fault, ...] = ()
    composed: Mapping[str, bytes] = field(default_factory=dict)

    def composed_in(self, folder: str) -> dict[str, bytes]:
        """The files of one of the folders `COMPOSED`, by path."""
        return {path: data for path, data in self.composed.items() if path.startswith(f"{folder}/")}

    def data(self, path: str) -> bytes | None:
        if path == BOOK_FILE:
            return self.conventions
        return self.problems.get(path) or self.chapters.get(path) or self.composed.get(path)

    def line(self, path: str, number: int) -> str | None:
        """The 1-based line of a file as text, without its line break; None where there is no such line."""
        data = self.data(path)
        if data is None:
            return None
        lines = Lines(path, data.removeprefix(b"\xef\xbb\xbf").decode("utf-8", errors="replace"))
        return lines.text[slice(*lines.bounds(number))] if 1 <= number <= len(lines) else None


class NoBook(NotADirectoryError):
    """There is no such folder; the text says so."""

    def __init__(self, root: Path) -> None:
        super().__init__(f"{root} is not the folder of a book. Go to the folder that holds it, or name the book's own folder.")


def load(root: Path) -> Sources:
    """Read the content folder `root`. Raises NoBook where there is none."""
    if not root.is_dir():
        raise NoBook(root)
    root = root.resolve()
    problems: dict[str, bytes] = {}
    chapters: dict[str, bytes] = {}
    composed: dict[str, bytes] = {}
    faults: list[Fault] = []
    conventions: bytes | None = None
    for folder, names in _folders(root, root, faults):
        relative = folder.relative_to(root).as_posix()
        is_composed = relative.split("/")[0] in COMPOSED
        is_chapter = relative != "." and not is_composed and INDEX in names
        for name in sorted(names):
            path = name if relative == "." else f"{relative}/{name}"
            if not (name.endswith(".md") or path == BOOK_FILE):
                continue
            data = _bytes(folder / name, root, path, faults)
            if data is None:
                continue
            if path == BOOK_FILE:
                conventions = data
            elif is_composed:
                composed[path] = data
            elif is_chapter:
                (chapters if name == INDEX else problems)[path] = data
            elif _ASKS.match(data[:4000]):
                faults.append(_refused(path, "no-chapter"))
    return Sources(
        dict(sorted(problems.items())), dict(sorted(chapters.items())), conventions, tuple(faults), dict(sorted(composed.items()))
    )


def _folders(folder: Path, root: Path, faults: list[Fault]) -> Iterator[tuple[Path, list[str]]]:
    """Each folder of the book that may hold problems or pages made of them, with the names of its files."""
    names: list[str] = []
    inner: list[Path] = []
    with os.scandir(folder) as entries:
        for entry in sorted(entries, key=lambda e: e.name):
            if entry.name.startswith((".", "_")):
                continue
            path = Path(entry.path).relative_to(root).as_posix()
            if _is_folder(entry):
                if folder == root and entry.name in RESERVED - COMPOSED:
                    continue
                if entry.is_symlink():
                    faults.append(_refused(path, "outside" if _leaves(Path(entry.path), root) else "linked-folder"))
                else:
                    inner.append(Path(entry.path))
            elif entry.name.endswith(".md") and not _NAME.fullmatch(entry.name):
                faults.append(_refused(path, "name"))
            else:
                names.append(entry.name)
    yield folder, names
    for each in inner:
        yield from _folders(each, root, faults)


def _is_folder(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_dir()
    except OSError:  # a link that leads to itself
        return False


def _bytes(file: Path, root: Path, path: str, faults: list[Fault]) -> bytes | None:
    try:
        if file.is_symlink() and _leaves(file, root):
            faults.append(_refused(path, "outside"))
        elif not stat.S_ISREG(file.stat().st_mode):
            faults.append(_refused(path, "not-a-file"))
        else:
            with file.open("rb") as stream:
                return stream.read(MAX_FILE + 1)
    except OSError:
        faults.append(_refused(path, "unreadable"))
    return None


def _leaves(path: Path, root: Path) -> bool:
    try:
        return not path.resolve(strict=True).is_relative_to(root)
    except (OSError, RuntimeError):
        return True


def _refused(path: str, why: str) -> RefusedFile:
    printable = path.encode("utf-8", errors="replace").decode("utf-8")
    top = Place(1, 1)
    return RefusedFile(Span(printable, top, top), why)
