"""Places in files."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A 1-based line and a 1-based column in code points."""

    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Span:
    """From `start` up to but not including `end`, in the file at `path` (relative to the book's folder, with `/`)."""

    path: str
    start: Place
    end: Place


@dataclass(frozen=True, slots=True)
class Text:
    """A piece of raw text from a file and where it stands; `span` covers the text itself, without quotes."""

    value: str
    span: Span
