"""Tables as any spreadsheet writes and reads them: comma-separated values, tolerant coming in, safe going out.

The format is RFC 4180 (2005); spreadsheets depart from it by semicolons, tabs, byte-order marks and older encodings.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

_DELIMITERS = (",", ";", "\t", "|")
#: How many lines at the top may come before the names of the columns: a title, an empty line.
_ABOVE = 10
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
#: What a spreadsheet takes for a formula (also in the wide forms of East Asian keyboards) or for a day when it opens a file.
_TAKEN = re.compile(r"[=+\-@\t\r\n＝＋－＠]|\d{1,4}[/-]\d{1,4}(?:[/-]\d{1,4})?\Z")

_DAY = re.compile(r"\d{1,2}[-. ]{1,2}[^\W\d]{3,9}\.?(?:[-. ]\d{2,4})?|\d{1,4}([/.-])\d{1,2}\1\d{1,4}(?: 00:00(?::00)?)?")


@dataclass(frozen=True, slots=True)
class Table:
    """The names of the columns, the rows below them (each at least as long), the number of each row's first line, the separator."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    lines: tuple[int, ...]
    delimiter: str = ","

    def column(self, names: Iterable[str]) -> int | None:
        """The place of the first column with one of these names (as `plain_name` writes them), the names in order of preference."""
        known = [plain_name(column) for column in self.columns]
        return next((known.index(name) for name in names if name in known), None)

    def overfull(self, row: Sequence[str]) -> bool:
        """Whether a row holds more than the columns have names for: an unquoted comma has probably cut a cell in two."""
        return any(cell for cell in row[len(self.columns) :])


def plain_name(column: str) -> str:
    """A column's name without case, accents of layout and punctuation: `Student name:` is `studentname`."""
    return re.sub(r"[\W_]+", "", column.casefold())


def read_table(data: bytes, known: Iterable[str]) -> Table | None:
    """The table in a file, or None where there is none. `known` are the names of columns (plain) by which it is recognised."""
    text = _decoded(data)
    names = frozenset(known)
    first = re.match(r"sep=(.)\r?\n", text)  # a line that some spreadsheets put first
    text, said = (text[first.end() :], (first[1],)) if first else (text, _DELIMITERS)
    best: tuple[tuple[int, int], str, list[tuple[int, list[str]]], int] | None = None
    for delimiter in said:
        records = [(line, cells) for line, cells in _records(text, delimiter) if any(cells)]
        for place, (_, cells) in enumerate(records[:_ABOVE]):
            worth = (len({plain_name(cell) for cell in cells} & names), len(cells))
            if worth[0] and (best is None or worth > best[0]):
                best = worth, delimiter, records, place
    if best is None:
        return None
    _, delimiter, records, place = best
    width = len(records[place][1])
    below = records[place + 1 :]
    start = 1 if first else 0
    rows = tuple(tuple(cells) + ("",) * (width - len(cells)) for _, cells in below)
    return Table(tuple(records[place][1]), rows, tuple(line + start for line, _ in below), delimiter)


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace").removeprefix("\ufeff")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:  # what Windows spreadsheets write unless they are told otherwise
        return data.decode("cp1252", "replace")


def _records(text: str, delimiter: str) -> list[tuple[int, list[str]]]:
    """The records with the numbers of their first lines, every cell trimmed and without its guard.

    One quotation mark that is never closed would swallow the rest of the class: then each line is read for itself.
    """
    found: list[tuple[int, list[str]]] | None
    try:
        found = _parsed(text, delimiter, strict=True)
    except csv.Error:
        try:
            found = None if text.count('"') % 2 else _parsed(text, delimiter, strict=False)
        except csv.Error:
            found = None
    if found is None:
        found = [(n, _line(line, delimiter)) for n, line in enumerate(text.splitlines(), 1)]
    return [(line, [unguarded(cell.strip()) for cell in cells]) for line, cells in found]


def _parsed(text: str, delimiter: str, *, strict: bool) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=strict)
    found: list[tuple[int, list[str]]] = []
    before = 0
    for cells in reader:
        found.append((before + 1, cells))
        before = reader.line_num
    return found


def _line(line: str, delimiter: str) -> list[str]:
    try:
        return next(csv.reader([line], delimiter=delimiter), [])
    except csv.Error:
        return line.split(delimiter)


def guarded(cell: str) -> str:
    """A cell that no spreadsheet runs as a formula or turns into a day: an apostrophe goes before what could be taken so.

    `-cos x + C` would otherwise be computed and `1/2` become the first of February. Plain numbers stay numbers. A cell that already
    looks guarded gets one more apostrophe, so that `unguarded` gives every cell back as it was (for advice against formulas
    in such files see OWASP, “CSV Injection”).
    """
    bare = cell.lstrip("'")
    return f"'{cell}" if _TAKEN.match(bare) and not (bare == cell and _NUMBER.fullmatch(cell)) else cell


def unguarded(cell: str) -> str:
    """The cell that `guarded` was given."""
    return cell[1:] if cell.startswith("'") and _TAKEN.match(cell.lstrip("'")) else cell


def write_table(columns: Sequence[str], rows: Iterable[Sequence[str]], delimiter: str = ",") -> bytes:
    """A table as a file that spreadsheets open rightly: UTF-8 with its mark, every cell guarded."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=delimiter, lineterminator="\r\n")
    writer.writerow([guarded(cell) for cell in columns])
    writer.writerows([guarded(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8-sig", "replace")


def looks_like_a_day(cell: str) -> bool:
    """Whether a cell holds what spreadsheets make of a fraction such as 1/2: `01-Feb`, `02/01/2026`, `2026-02-01`."""
    return bool(_DAY.fullmatch(cell.strip()))


def value_of(row: Sequence[str], column: int | None) -> str:
    """A cell of a row; empty where there is no such column."""
    return "" if column is None else row[column]


def named(columns: Mapping[str, tuple[str, ...]]) -> frozenset[str]:
    """All names of all columns."""
    return frozenset(name for names in columns.values() for name in names)
