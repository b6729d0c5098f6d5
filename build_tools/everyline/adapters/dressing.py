"""The theme in our clothes and in the book's language."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ..render.assets import FOLDER, templates
from ..render.prose import Formulas
from ..render.scripts import SCRIPT
from ..source.load import BOOK_FILE
from ..source.reading import read_conventions


def dress(config: Any) -> None:
    """MkDocs' settings with templates after those of the site's owner, language, style, script, and formulas in prose."""
    config.theme.dirs.insert(1 if config.theme.custom_dir else 0, str(templates()))
    language = _language(Path(config.docs_dir))
    config.theme["language"] = _spoken(language, config)
    config.theme["favicon"] = f"{FOLDER}/mark.svg"
    config.extra_css.insert(0, f"{FOLDER}/everyline.css")
    config.extra_javascript.append(f"{FOLDER}/{SCRIPT}")
    config.markdown_extensions.append(Formulas(language))


def _language(content: Path) -> str:
    """The language of a book, before anything else of it is read."""
    settings = content / BOOK_FILE
    return read_conventions(BOOK_FILE, settings.read_bytes() if settings.is_file() else b"").conventions.language


def _spoken(code: str, config: Any) -> str:
    """A language as far as the theme speaks it: `de` for `de-AT`. One that it does not speak at all leaves what was set."""
    known = {file.stem for folder in config.theme.dirs for file in Path(folder, "partials", "languages").glob("*.html")}
    wanted = (code, code.replace("_", "-").partition("-")[0].lower())
    return next((name for name in wanted if name in known), str(config.theme["language"]))
