"""The letters of a family: each with the whole numbers that it may be. `2..9`, `-5..5 except 0`, `1, 2, 4`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from .faults import BadLetter, BadRange, Fault
from .span import Text

WHERE = "where"
MOST_LETTERS, MOST_VALUES, LARGEST = 6, 200, 1000
_LETTER = re.compile(r"\\?(?P<name>[A-Za-z]|alpha|beta|gamma|lambda|mu|omega)(?:_(?P<index>[0-9]))?")
_TAKEN = frozenset("eCd")
_MINUS = str.maketrans("−–", "--")
_PIECE = re.compile(r"\s*(?P<first>[-−–]?\d{1,6})\s*(?:\.\.+\s*(?P<last>[-−–]?\d{1,6})\s*)?")
_EXCEPT = re.compile(r"\bexcept\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Letter:
    """One letter of a family, by its plain name, and the whole numbers that it may be, in the order of the file."""

    name: str
    values: tuple[int, ...]
    text: Text


@dataclass(frozen=True, slots=True)
class Vary:
    """The letters of a family and, as text, the conditions between them (`b^2 - 4a < 0, a != b`)."""

    letters: tuple[Letter, ...]
    where: Text | None = None


def read_vary(pairs: Iterable[tuple[Text, Text]]) -> tuple[Vary | None, tuple[Fault, ...]]:
    """The family that a `vary` table describes; None where no letter of it can be read."""
    letters: list[Letter] = []
    faults: list[Fault] = []
    where: Text | None = None
    for name, text in pairs:
        if name.value == WHERE:
            where = text
            continue
        made = _letter(name, text)
        if isinstance(made, Letter) and len(letters) == MOST_LETTERS:
            made = BadLetter(name.span, name.value, "many")
        if isinstance(made, Letter):
            letters.append(made)
        else:
            faults.append(made)
    return (Vary(tuple(letters), where) if letters and not faults else None), tuple(faults)


def _letter(name: Text, text: Text) -> Letter | Fault:
    match = _LETTER.fullmatch(name.value)
    if match is None or match["name"] in _TAKEN:
        return BadLetter(name.span, name.value, "taken" if match else "name")
    plain = match["name"] + (f"_{match['index']}" if match["index"] else "")
    cut = _EXCEPT.search(text.value)
    wanted = _values(text.cut(0, cut.start() if cut else None))
    left_out = _values(text.cut(cut.end())) if cut else ()
    for found in (wanted, left_out):
        if isinstance(found, BadRange):
            return BadRange(found.span, name.value, found.value, found.why)
    assert not isinstance(wanted, BadRange)
    assert not isinstance(left_out, BadRange)
    kept = tuple(value for value in dict.fromkeys(wanted) if value not in left_out)
    return Letter(plain, kept, text) if kept else BadRange(text.span, name.value, text.value, "empty")


def _values(text: Text) -> tuple[int, ...] | BadRange:
    found: list[int] = []
    for piece in _pieces(text):
        match = _PIECE.fullmatch(piece.value)
        shown = piece.stripped()
        if match is None:
            return BadRange(shown.span if shown.value else text.span, "", shown.value or text.value.strip(), "form")
        first = int(match["first"].translate(_MINUS))
        last = int((match["last"] or match["first"]).translate(_MINUS))
        if last < first:
            return BadRange(shown.span, "", shown.value, "backwards")
        if max(abs(first), abs(last)) > LARGEST or len(found) + last - first >= MOST_VALUES:
            return BadRange(shown.span, "", shown.value, "large")
        found += range(first, last + 1)
    return tuple(found)


def _pieces(text: Text) -> Iterator[Text]:
    start = 0
    for comma in re.finditer(",", text.value):
        yield text.cut(start, comma.start())
        start = comma.end()
    yield text.cut(start)
