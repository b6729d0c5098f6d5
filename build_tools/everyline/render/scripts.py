"""The scripts of the site: each is joined from files of `site_src/script` and made small."""

from __future__ import annotations

import minify

from ..resources import site_source

#: The scripts by the names they have on the site, in the order in which a page loads them, and the files that each is made of.
SCRIPTS: dict[str, tuple[str, ...]] = {
    "everyline-notation.js": tuple(f"notation/{part}.js" for part in ("words", "tree", "lexer", "parser", "read", "printers", "value")),
    "everyline.js": ("box.js", "finish.js", "family.js", "everyline.js"),
    "everyline-deal.js": ("deal.js",),
    "everyline-pace.js": ("pace.js", "progress.js"),
}
#: minify-go writes into room as large as what it reads; a short text may need a little more.
_ROOM = " " * 64


def source(name: str) -> str:
    """A script of `SCRIPTS` as people read it. Several files share one function, so that they see each other and nobody else does."""
    parts = [site_source().joinpath("script", *part.split("/")).read_text(encoding="utf-8") for part in SCRIPTS[name]]
    return parts[0] if len(parts) == 1 else '(() => {\n"use strict";\n' + "\n".join(parts) + "\n})();\n"


def script(name: str) -> bytes:
    """A script of `SCRIPTS` as a page loads it.

    minify-go 2.24 moves a declaration that takes something apart (`const [a, b] = …`) before plain ones beside it, also when both
    call something. `tests/render/test_scripts.py` looks for such places; the browser tests run what this function returns.
    """
    made: str = minify.string("application/javascript", source(name) + _ROOM)
    return made.encode()
