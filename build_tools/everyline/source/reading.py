"""From the bytes of a file to what it says. Pure: nothing here touches the file system, nothing raises on any bytes."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from functools import partial

from ..notation.message import say
from .body import read_body
from .faults import BadValue, Fault, TooLarge
from .fields import Fields, is_day
from .front import MAX_FRONT, decode, fields_of, front_of, ordered
from .paths import page_path
from .problem import Chapter, Conventions, Erratum, Problem
from .schema import BOOK, CHAPTER, PROBLEM, VOUCHED
from .span import Text
from .vary import read_vary


@dataclass(frozen=True, slots=True)
class Read:
    """What was read: the problem, unless question or key could not be, and every fault in the order of the file."""

    problem: Problem | None
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class ReadChapter:
    """What an `index.md` says. `chapter` is None only where its title could not be read."""

    chapter: Chapter | None
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class ReadConventions:
    """What `book.yml` says; what could not be read keeps its default."""

    conventions: Conventions
    faults: tuple[Fault, ...]


def read_problem(path: str, data: bytes, techniques: Collection[str] | None = None) -> Read:
    """Read a problem file. `path` is relative to the content folder; `techniques` are the known ids (None: names go unchecked)."""
    lines, faults = decode(path, data)
    if lines is None:
        return Read(None, faults)
    front = front_of(lines)
    if isinstance(front, Fault):
        return Read(None, ordered((*faults, front)))
    fields, unreadable = fields_of(lines, front, PROBLEM)
    body = read_body(lines, front[2])
    question, keys = fields.formula("question"), fields.formulas("key")
    vouched = fields.table("vouched", VOUCHED)
    said = {name.value: text for name, text in vouched} if vouched else {}
    vary, unvaried = read_vary(fields.table("vary") or ())
    # Every field is read, also of a file that lacks what it must have: all that is wrong is told at once.
    made = partial(
        Problem,
        path,
        title=fields.words("title"),
        level=int(fields.choice("level", "1")),
        methods=fields.techniques("methods", techniques),
        needs=fields.techniques("needs", techniques),
        hints=fields.word_list("hints"),
        u=fields.formula("u"),
        domain=fields.formula("domain"),
        given=fields.words("given"),
        vary=vary,
        times=fields.times("times"),
        release=fields.date("release"),
        vouched=(said["name"], said["reason"]) if said else None,
        author=fields.words("author"),
        source=fields.words("source"),
        license=fields.words("license"),
        video=fields.address("video"),
        prose=body.prose,
        blocks=body.blocks,
    )
    problem = made(question=question, keys=keys) if question is not None and keys else None
    return Read(problem, ordered((*faults, *unreadable, *fields.faults, *unvaried, *body.faults)))


def read_chapter(path: str, data: bytes, techniques: Collection[str] | None = None) -> ReadChapter:
    """Read the `index.md` of a chapter's folder."""
    lines, faults = decode(path, data)
    if lines is None:
        return ReadChapter(None, faults)
    front = front_of(lines)
    if isinstance(front, Fault):
        return ReadChapter(None, ordered((*faults, front)))
    fields, unreadable = fields_of(lines, front, CHAPTER)
    title, order = fields.words("title"), fields.whole("order", 0)
    introduces = fields.techniques("introduces", techniques)
    body = read_body(lines, front[2])
    folder = path.rsplit("/", 1)[0] if "/" in path else ""
    chapter = Chapter(folder, title.value, order, introduces, body.prose) if title else None
    return ReadChapter(chapter, ordered((*faults, *unreadable, *fields.faults, *body.faults)))


def read_conventions(path: str, data: bytes) -> ReadConventions:
    """Read `book.yml`: the same fields and rules as a front matter, without the `---` lines around it (they may be there)."""
    lines, faults = decode(path, data)
    if lines is None:
        return ReadConventions(Conventions(), faults)
    first = re.match(r"(?:\s*(?:#[^\n]*)?\n)*---[ \t]*(?:\r\n|\n|\r|$)", lines.text)
    start = first.end() if first else 0
    if len(lines.text) - start > MAX_FRONT:
        return ReadConventions(Conventions(), (*faults, TooLarge(lines.span(start, start), "book.yml", len(lines.text) - start, MAX_FRONT)))
    fields, unreadable = fields_of(lines, (start, len(lines.text), 0), BOOK)
    plain = Conventions()
    words = {name: fields.words(name) for name in ("title", "language", "edition", "license")}
    said = {name: text.value for name, text in words.items() if text}
    chosen = {name: fields.choice(name, getattr(plain, name)) for name in ("log", "decimal", "constant")}
    dated, address = fields.date("dated"), fields.address("address")
    errata = tuple(found for text in fields.word_list("errata") if (found := _erratum(text, fields)))
    made = Conventions(
        **said,
        **chosen,
        dated=dated.value if dated else "",
        address=address.value.rstrip("/") + "/" if address else "",
        errata=errata,
    )
    return ReadConventions(made, ordered((*faults, *unreadable, *fields.faults)))


def _erratum(text: Text, fields: Fields) -> Erratum | None:
    """`2027-03-01 parts/by-the-tide A sign in the key.`"""
    match = re.fullmatch(r"(\d{4}-\d{2}-\d{2})\s+(\S+/\S+)\s+(\S.*)", text.value, re.ASCII | re.DOTALL)
    if match is None or not is_day(match[1]):
        shape = say("a day, a page and what was put right, such as “{example}”", example="2027-03-01 parts/by-the-tide A sign in the key.")
        fields.faults.append(BadValue(text.span, "errata", text.value, shape))
        return None
    return Erratum(match[1], page_path(match[2]), match[3], text.part(*match.span(2)))
