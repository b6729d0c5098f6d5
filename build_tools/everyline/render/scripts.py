"""The script of the site: joined from files of `site_src/script` and made small. One file packs a tenth smaller than several."""

from __future__ import annotations

import minify

from ..language import ENGLISH, translator
from ..notation.message import Translate
from ..resources import site_source
from .script_words import with_words

#: What the script is called on the site.
SCRIPT = "everyline.js"
#: Its parts in order, and the files that each is made of. The files of a part share one function: they see each other and no other part.
PARTS: dict[str, tuple[str, ...]] = {
    "notation": tuple(f"notation/{part}.js" for part in ("words", "tree", "lexer", "parser", "read", "printers", "value")),
    "page": tuple(f"{part}.js" for part in ("shared", "box", "finish", "family", "deal", "note", "pace", "progress", "everyline")),
}
#: minify-go writes into room as large as what it reads; a short text may need a little more.
_ROOM = " " * 64


def source(part: str, tell: Translate = str) -> str:
    """A part of the script as people read it, its words in the language that `tell` speaks."""
    files = [with_words(site_source().joinpath("script", *name.split("/")).read_text(encoding="utf-8"), tell) for name in PARTS[part]]
    return files[0] if len(files) == 1 else '(() => {\n"use strict";\n' + "\n".join(files) + "\n})();\n"


def shortened(part: str, tell: Translate = str) -> str:
    """A part of the script as a page loads it.

    minify-go 2.24 moves a declaration that takes something apart (`const [a, b] = …`) before plain ones beside it, also when both
    call something. `tests/render/test_scripts.py` looks for such places; the browser tests run what this function returns.
    """
    made: str = minify.string("application/javascript", source(part, tell) + _ROOM)
    return made


def script(language: str = ENGLISH) -> bytes:
    """The whole script as a page loads it, in a language."""
    return ";\n".join(shortened(part, translator(language)) for part in PARTS).encode()
