"""What a site generator says while it builds: errors in full, warnings as its own warnings, so that a strict build counts them."""

from __future__ import annotations

import logging
import sys

from .. import diagnostics
from ..book import Book
from ..language import translator
from ..source.load import Sources

#: MkDocs counts the warnings of the loggers below its own.
log = logging.getLogger("mkdocs.plugins.everyline")


def tell(book: Book, sources: Sources) -> None:
    """Says what is wrong with a book, in its language."""
    speak = translator(book.conventions.language)
    for fault in book.diagnostics:
        if fault.severity == "error":
            print(diagnostics.text(fault, sources, tell=speak), end="\n\n", file=sys.stderr)
        else:
            level = logging.WARNING if fault.severity == "warning" else logging.DEBUG
            log.log(level, diagnostics.text(fault, sources, tell=speak))


def stopping() -> bool:
    """Whether the build is about to be given up for its warnings: in a strict one MkDocs counts them, and looks at the count last."""
    return any(handler.get_counts() for handler in logging.getLogger("mkdocs").handlers if hasattr(handler, "get_counts"))
