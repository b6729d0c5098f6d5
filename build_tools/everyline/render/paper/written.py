"""A document in the form that was asked for."""

from __future__ import annotations

import os

from ...book.release import today
from .markdown import markdown, text
from .model import Document
from .tex import tex


def written(document: Document, form: str, paper: str = "a4") -> bytes:
    """The document as `text`, `md`, `tex` or `pdf`, the words in UTF-8. The compiler is loaded for a PDF only.

    Raises:
        ValueError: SOURCE_DATE_EPOCH, by which a PDF is dated, is no number of seconds.
    """
    if form == "pdf":
        from .pdf import pdf

        return pdf(document, paper, made_on=today(os.environ))
    if form == "tex":
        return tex(document, paper).encode("utf-8")
    return (markdown(document) if form == "md" else text(document)).encode("utf-8")
