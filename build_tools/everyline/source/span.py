"""Places in files."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass

_LINE_BREAK = re.compile(r"\r\n|\r|\n")


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A 1-based line and a 1-based column in code points."""

    line: int
    column: int

    def shifted(self, columns: int) -> Place:
        return Place(self.line, self.column + columns)


@dataclass(frozen=True, slots=True)
class Span:
    """From `start` up to but not including `end`, in the file at `path` (relative to the book's folder, with `/`)."""

    path: str
    start: Place
    end: Place


@dataclass(frozen=True, slots=True)
class Text:
    """A piece of raw text from a file and where it stands; `span` covers the text itself, without quotes.

    `runs` say where the text does not simply follow the file: from offset `k` of the value on, up to the next run, the
    characters stand side by side from the given place (a doubled quote and a folded line each begin a new run). Empty:
    all of it stands side by side from the start of the span.
    """

    value: str
    span: Span
    runs: tuple[tuple[int, Place], ...] = ()

    def at(self, offset: int) -> Place:
        """Where the character at `offset` of the value stands in the file; at or past the end of the value: the end."""
        if offset >= len(self.value):
            return self.span.end
        offset = max(offset, 0)
        if not self.runs:
            return self.span.start.shifted(offset)
        first, place = self.runs[bisect_right(self.runs, offset, key=lambda run: run[0]) - 1]
        return place.shifted(offset - first)

    def part(self, start: int, end: int) -> Span:
        """The place of `value[start:end]`; empty parts have an empty span."""
        begin = self.at(start)
        return Span(self.span.path, begin, self.at(end - 1).shifted(1) if start < min(end, len(self.value)) else begin)

    def cut(self, start: int, end: int | None = None) -> Text:
        """`value[start:end]` as a text of its own, still knowing its places."""
        start, end, _ = slice(start, end).indices(len(self.value))
        end = max(start, end)
        if not self.runs:
            return Text(self.value[start:end], self.part(start, end))
        inner = tuple((first - start, place) for first, place in self.runs if start < first < end)
        return Text(self.value[start:end], self.part(start, end), ((0, self.at(start)), *inner))

    def stripped(self) -> Text:
        """Without the white space around it."""
        start = len(self.value) - len(self.value.lstrip())
        return self.cut(start, max(start, len(self.value.rstrip())))


class Lines:
    """The text of one file, to find the line and column of any offset of it."""

    def __init__(self, path: str, text: str) -> None:
        self.path = path
        self.text = text
        self._starts = [0, *(m.end() for m in _LINE_BREAK.finditer(text))]

    def __len__(self) -> int:
        return len(self._starts)

    def place(self, offset: int) -> Place:
        line = bisect_right(self._starts, offset)
        return Place(line, offset - self._starts[line - 1] + 1)

    def span(self, start: int, end: int) -> Span:
        return Span(self.path, self.place(start), self.place(max(start, end)))

    def piece(self, start: int, end: int) -> Text:
        """`text[start:end]` of one line as a `Text`."""
        return Text(self.text[start:end], self.span(start, end))

    def bounds(self, line: int) -> tuple[int, int]:
        """Offsets of the 1-based line, without its line break."""
        start = self._starts[line - 1]
        end = self._starts[line] if line < len(self._starts) else len(self.text)
        return start, start + len(self.text[start:end].rstrip("\r\n"))

    def line_end(self, offset: int) -> int:
        """The offset of the end of the line that `offset` is in, without its line break."""
        return self.bounds(bisect_right(self._starts, offset))[1]
