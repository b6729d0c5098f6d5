"""The language of a book, as the frame around its pages needs it: before anything else of the book is read."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from ..source.load import BOOK_FILE
from ..source.reading import read_conventions


def language(content: Path, themes: Iterable[str], otherwise: str) -> str:
    """The language that `book.yml` names, as far as a theme speaks it: `de` for `de-AT`. `themes` are the folders of the theme's
    templates; a language that it does not speak at all leaves what was set `otherwise`."""
    settings = content / BOOK_FILE
    code = read_conventions(BOOK_FILE, settings.read_bytes() if settings.is_file() else b"").conventions.language
    spoken = {file.stem for folder in themes for file in Path(folder, "partials", "languages").glob("*.html")}
    return next((known for known in (code, code.replace("_", "-").partition("-")[0].lower()) if known in spoken), otherwise)
