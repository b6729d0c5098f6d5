"""Which book the paths of a call belong to."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

_SETTING = re.compile(r"^(site_url|use_directory_urls):[ \t]*([^\s#]+)", re.MULTILINE)


def book_of(paths: Sequence[Path]) -> tuple[Path, list[str] | None]:
    """The content folder that the paths belong to, and the files in it that they name (None: the whole book).

    Raises:
        NoBook: nothing is named, and there is no folder `content` here.
        ValueError: a path that is not there, or that lies in no book, or in another one.
    """
    if not paths:
        paths = [Path("content")]
        if not paths[0].is_dir():
            from ..source.load import NoBook

            raise NoBook(paths[0])
    for path in paths:
        if not path.exists():
            raise ValueError(f"{path} is not there")
    roots = {_root_of(path.resolve()) for path in paths}
    if len(roots) > 1:
        raise ValueError("these paths belong to different books; take them one after the other")
    root = roots.pop()
    if any(path.resolve() == root for path in paths):
        return root, None
    files = [f for path in paths for f in (sorted(path.rglob("*.md")) if path.is_dir() else [path])]
    return root, [file.resolve().relative_to(root).as_posix() for file in files]


def _root_of(path: Path) -> Path:
    """The nearest folder at or above a path that has a book.yml; without one, the path's own folder, or its parent for a chapter."""
    folder = path if path.is_dir() else path.parent
    for above in (folder, *folder.parents):
        if (above / "book.yml").is_file():
            return above
    return folder.parent if (folder / "index.md").is_file() and any(folder.parent.glob("*/index.md")) and path.is_file() else folder


def site_of(folder: Path) -> tuple[str, bool]:
    """Where the site of the book in a folder will be (empty: not said), and whether its addresses end in `/`: as its settings say.

    Only these two lines are read: the file is the site generator's, which may not be there.
    """
    settings = next((file for above in folder.resolve().parents if (file := above / "mkdocs.yml").is_file()), None)
    said = dict(_SETTING.findall(settings.read_text(encoding="utf-8", errors="replace"))) if settings else {}
    address = said.get("site_url", "").strip("\"'").rstrip("/")
    return (f"{address}/" if address else ""), said.get("use_directory_urls", "true").lower() != "false"


def language_of(folder: Path) -> str:
    """The language of the book in a folder; English where there is none."""
    from ..source.load import BOOK_FILE
    from ..source.reading import read_conventions

    settings = folder / BOOK_FILE
    return read_conventions(BOOK_FILE, settings.read_bytes() if settings.is_file() else b"").conventions.language


def shown_root(root: Path) -> str:
    """What goes before a path of the book on the screen, `content/`."""
    return root.relative_to(Path.cwd()).as_posix() + "/" if root.is_relative_to(Path.cwd()) else root.as_posix() + "/"
