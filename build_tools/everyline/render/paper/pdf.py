"""A document as PDF (or, to look at it, as pictures of its pages), with the Typst compiler: offline, the same bytes each time."""

from __future__ import annotations

import datetime
from typing import Any

import typst

from .model import Document
from .typst import source


def pdf(document: Document, paper: str = "a4", *, made_on: datetime.date | None = None) -> bytes:
    """The document as a tagged PDF. Only the compiler's own fonts are used, so that it looks alike everywhere."""
    return b"".join(_compiled(document, paper, made_on, format="pdf"))


def pictures(document: Document, paper: str = "a4", *, dots: float = 80.0) -> tuple[bytes, ...]:
    """Each page as PNG, with `dots` to the inch."""
    return tuple(_compiled(document, paper, None, format="png", ppi=dots))


def _compiled(document: Document, paper: str, day: datetime.date | None, **how: Any) -> list[bytes]:
    day = day or datetime.date(2000, 1, 1)
    stamp = int(datetime.datetime(day.year, day.month, day.day, tzinfo=datetime.UTC).timestamp())
    made: bytes | list[bytes] = typst.compile(source(document, paper).encode(), ignore_system_fonts=True, timestamp=stamp, **how)
    return [made] if isinstance(made, bytes) else made
