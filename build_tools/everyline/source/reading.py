"""From the bytes of a file to what it says. Pure: nothing here touches the file system, nothing raises on any bytes."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass

from .body import read_body
from .faults import BadEncoding, Fault, NoFrontMatter, OddCharacter, TooLarge, UnclosedFrontMatter
from .fields import Fields
from .nodes import read_entries
from .problem import Chapter, Conventions, Problem
from .schema import BOOK, CHAPTER, PROBLEM, VOUCHED, Field
from .span import Lines, Place, Span

MAX_FILE = 64_000
MAX_FRONT = 16_000
MAX_ODD = 5
_ODD = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]")
_BYTE_MARKS = ((b"\xff\xfe", "UTF-16"), (b"\xfe\xff", "UTF-16"))


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
    lines, faults = _decode(path, data)
    if lines is None:
        return Read(None, faults)
    front = _front(lines)
    if isinstance(front, Fault):
        return Read(None, _sorted((*faults, front)))
    fields, unreadable = _fields(lines, front, PROBLEM)
    body = read_body(lines, front[2])
    question, keys = fields.formula("question"), fields.formulas("key")
    vouched = fields.table("vouched", VOUCHED)
    said = {name.value: text for name, text in vouched} if vouched else {}
    optional = {
        "title": fields.words("title"),
        "u": fields.formula("u"),
        "domain": fields.formula("domain"),
        "given": fields.words("given"),
        "release": fields.date("release"),
        "author": fields.words("author"),
        "source": fields.words("source"),
        "license": fields.words("license"),
        "video": fields.address("video"),
    }
    problem = None
    level = int(fields.choice("level", "1"))
    methods, hints = fields.techniques("methods", techniques), fields.word_list("hints")
    needs, vary = fields.techniques("needs", techniques), fields.table("vary") or ()
    if question is not None and keys:
        problem = Problem(
            path=path,
            question=question,
            keys=keys,
            level=level,
            methods=methods,
            hints=hints,
            needs=needs,
            vary=vary,
            vouched=(said["name"], said["reason"]) if said else None,
            prose=body.prose,
            blocks=body.blocks,
            **optional,
        )
    return Read(problem, _sorted((*faults, *unreadable, *fields.faults, *body.faults)))


def read_chapter(path: str, data: bytes, techniques: Collection[str] | None = None) -> ReadChapter:
    """Read the `index.md` of a chapter's folder."""
    lines, faults = _decode(path, data)
    if lines is None:
        return ReadChapter(None, faults)
    front = _front(lines)
    if isinstance(front, Fault):
        return ReadChapter(None, _sorted((*faults, front)))
    fields, unreadable = _fields(lines, front, CHAPTER)
    title, order = fields.words("title"), fields.whole("order", 0)
    introduces = fields.techniques("introduces", techniques)
    body = read_body(lines, front[2])
    folder = path.rsplit("/", 1)[0] if "/" in path else ""
    chapter = Chapter(folder, title.value, order, introduces, body.prose) if title else None
    return ReadChapter(chapter, _sorted((*faults, *unreadable, *fields.faults, *body.faults)))


def read_conventions(path: str, data: bytes) -> ReadConventions:
    """Read `book.yml`: the same fields and rules as a front matter, without the `---` lines around it (they may be there)."""
    lines, faults = _decode(path, data)
    if lines is None:
        return ReadConventions(Conventions(), faults)
    first = re.match(r"(?:\s*(?:#[^\n]*)?\n)*---[ \t]*(?:\r\n|\n|\r|$)", lines.text)
    start = first.end() if first else 0
    if len(lines.text) - start > MAX_FRONT:
        return ReadConventions(Conventions(), (*faults, TooLarge(lines.span(start, start), "book.yml", len(lines.text) - start, MAX_FRONT)))
    fields, unreadable = _fields(lines, (start, len(lines.text), 0), BOOK)
    plain = Conventions()
    words = {name: fields.words(name) for name in ("title", "language", "edition", "license")}
    said = {name: text.value for name, text in words.items() if text}
    chosen = {name: fields.choice(name, getattr(plain, name)) for name in ("log", "decimal", "constant")}
    return ReadConventions(Conventions(**said, **chosen), _sorted((*faults, *unreadable, *fields.faults)))


def _sorted(faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    return tuple(sorted(dict.fromkeys(faults), key=lambda fault: (fault.span.start, fault.code)))


def _decode(path: str, data: bytes) -> tuple[Lines | None, tuple[Fault, ...]]:
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


def _front(lines: Lines) -> tuple[int, int, int] | Fault:
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


def _fields(lines: Lines, front: tuple[int, int, int], schema: tuple[Field, ...]) -> tuple[Fields, tuple[Fault, ...]]:
    entries, faults = read_entries(lines, front[0], front[1])
    return Fields(lines, entries, schema, lines.span(*lines.bounds(1))), faults
