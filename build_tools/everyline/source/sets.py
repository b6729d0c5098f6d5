"""A set of problems as its file says it: picked by chapter, level and technique, or listed by hand."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from ..notation.message import either, say
from .body import read_body
from .faults import BadValue, Fault, MissingField
from .fields import Fields
from .front import decode, fields_of, front_of, ordered
from .paths import page_name
from .schema import SET
from .span import Span, Text

MAX_COUNT = 200
_LEVELS = ("1", "2", "3")


@dataclass(frozen=True, slots=True)
class PracticeSet:
    """What a file of the folder `sets` says. `path` is relative to the content folder, `place` is its title's.

    `mixed`: neighbours must begin differently. Either `problems` are listed by hand (as paths, with or without `.md`), or `count` are
    picked with `seed` from what `chapters`, `levels` and `techniques` allow (empty: everything).
    """

    path: str
    title: str
    place: Span
    mixed: bool = True
    problems: tuple[Text, ...] = ()
    chapters: tuple[Text, ...] = ()
    levels: tuple[int, ...] = ()
    techniques: tuple[Text, ...] = ()
    count: int = 0
    count_place: Span | None = None
    seed: int = 1
    prose: str = ""

    @property
    def slug(self) -> str:
        return page_name(self.path)


@dataclass(frozen=True, slots=True)
class ReadSet:
    """The set, unless its front matter, its title or what is in it could not be read, and every fault in the order of the file."""

    found: PracticeSet | None
    faults: tuple[Fault, ...]


def read_set(path: str, data: bytes, techniques: Collection[str] | None = None) -> ReadSet:
    """Read a file of the folder `sets`. `techniques` are the known ids (None: names go unchecked)."""
    lines, faults = decode(path, data)
    if lines is None:
        return ReadSet(None, faults)
    front = front_of(lines)
    if isinstance(front, Fault):
        return ReadSet(None, ordered((*faults, front)))
    fields, unreadable = fields_of(lines, front, SET)
    body = read_body(lines, front[2])
    title, mixed = fields.words("title"), fields.choice("kind", "mixed") == "mixed"
    problems, chapters = fields.word_list("problems"), fields.word_list("chapters")
    levels, named = _levels(fields), fields.techniques("techniques", techniques)
    count, seed = fields.whole_text("count"), fields.whole("seed", 1)
    wrong: list[Fault] = []
    if problems and count:
        wrong.append(BadValue(count.span, "count", count.value, say("left out where the problems are listed")))
    elif count and not 2 <= int(count.value) <= MAX_COUNT:
        wrong.append(BadValue(count.span, "count", count.value, say("a whole number from {first} to {last}", first=2, last=MAX_COUNT)))
    elif not problems and not count and title:
        wrong.append(MissingField(title.span, "count"))
    found = None
    if title and not wrong:
        size = int(count.value) if count else len(problems)
        place = count.span if count else None
        found = PracticeSet(path, title.value, title.span, mixed, problems, chapters, levels, named, size, place, seed, body.prose)
    return ReadSet(found, ordered((*faults, *unreadable, *fields.faults, *body.faults, *wrong)))


def _levels(fields: Fields) -> tuple[int, ...]:
    found = fields.word_list("levels")
    fields.faults.extend(BadValue(text.span, "levels", text.value, either(("1", "2", "3"))) for text in found if text.value not in _LEVELS)
    return tuple(int(text.value) for text in found if text.value in _LEVELS)
