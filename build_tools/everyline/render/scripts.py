"""The scripts of the site: each is joined from files of `site_src/script` and made small."""

from __future__ import annotations

import minify

from ..resources import site_source

#: The scripts by the names they have on the site, in the order in which a page loads them, and the files that each is made of.
SCRIPTS: dict[str, tuple[str, ...]] = {
    "everyline-notation.js": tuple(f"notation/{part}.js" for part in ("words", "tree", "lexer", "parser", "read", "printers", "value")),
    "everyline.js": ("everyline.js",),
    "everyline-deal.js": ("deal.js",),
}


def script(name: str) -> bytes:
    """A script of `SCRIPTS` as a page loads it. Several files share one function, so that they see each other and nobody else does."""
    parts = [site_source().joinpath("script", *part.split("/")).read_text(encoding="utf-8") for part in SCRIPTS[name]]
    joined = parts[0] if len(parts) == 1 else '(() => {\n"use strict";\n' + "\n".join(parts) + "\n})();\n"
    made: str = minify.string("application/javascript", joined)
    return made.encode()
