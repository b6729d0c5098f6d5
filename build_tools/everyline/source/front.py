"""The two halves that every file of a book has: its bytes as clean text, and the fields of its front matter, each with its place."""

from __future__ import annotations

import re
import unicodedata

from .faults import BadEncoding, Fault, NoFrontMatter, OddCharacter, TooLarge, UnclosedFrontMatter
from .fields import Fields
from .nodes import read_entries
from .schema import Field
from .span import Lines, Place, Span

MAX_FILE = 64_000
MAX_FRONT = 16_000
MAX_ODD = 5
_ODD = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]")
_BYTE_MARKS = ((b"\xff\xfe", "UTF-16"), (b"\xfe\xff", "UTF-16"))


def ordered(faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    """Each fault once, in the order of the file."""
    return tuple(sorted(dict.fromkeys(faults), key=lambda fault: (fault.span.start, fault.code)))


def decode(path: str, data: bytes) -> tuple[Lines | None, tuple[Fault, ...]]:
    """The text with unseen characters replaced by spaces, one for one, so that every place stays true."""
    top = Span(path, Place(1, 1), Place(1, 1))
    if len(data) > MAX_FILE:
        return None, (TooLarge(top, "file", len(data), MAX_FILE),)
    for mark, guess in _BYTE_MARKS:
        if data.startswith(mark):
            return None, (BadEncoding(top, guess),)
    faults: list[Fault] = []
    data = data.removeprefix(b"\xef\xbb\xbf")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = Lines(path, data[: error.start].decode("utf-8"))
        at = before.place(len(before.text))
        faults.append(BadEncoding(Span(path, at, at.shifted(1)), _guess(data)))
        text = data.decode("utf-8", errors="replace")
    lines = Lines(path, text)
    for match in list(_ODD.finditer(text))[:MAX_ODD]:
        faults.append(OddCharacter(lines.span(match.start(), match.end()), f"U+{ord(match[0]):04X}"))
    clean = _ODD.sub(" ", text)
    return (Lines(path, clean) if clean != text else lines), tuple(faults)


def _guess(data: bytes) -> str:
    """What a file that is not UTF-8 was probably saved as."""
    if data.count(b"\0") > len(data) // 4:
        return "UTF-16"
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError:
        return ""
    return "Windows-1252" if all(c.isprintable() or c.isspace() or unicodedata.category(c) == "Cf" for c in text) else ""


def front_of(lines: Lines) -> tuple[int, int, int] | Fault:
    """Where the front matter begins and ends (offsets), and the number of the first line after it."""
    text = lines.text
    marks = [n for n in range(1, len(lines) + 1) if re.fullmatch(r"---[ \t]*", text[slice(*lines.bounds(n))])]
    if not marks or marks[0] != 1:
        at = lines.span(*lines.bounds(marks[0] if marks else 1))
        return NoFrontMatter(at, bool(marks))
    if len(marks) < 2:
        return UnclosedFrontMatter(lines.span(*lines.bounds(1)))
    start = lines.bounds(2)[0]
    end = lines.bounds(marks[1])[0]
    if end - start > MAX_FRONT:
        return TooLarge(lines.span(*lines.bounds(1)), "front matter", end - start, MAX_FRONT)
    return start, end, marks[1] + 1


def fields_of(lines: Lines, front: tuple[int, int, int], schema: tuple[Field, ...]) -> tuple[Fields, tuple[Fault, ...]]:
    """The fields between two offsets, ready to be read by name, and what could not be read at all."""
    entries, faults = read_entries(lines, front[0], front[1])
    return Fields(lines, entries, schema, lines.span(*lines.bounds(1))), faults
