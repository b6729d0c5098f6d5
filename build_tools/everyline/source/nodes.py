"""Front matter as nodes with places. YAML does the reading, event by event; nothing is ever constructed or converted.

Scalars stay the text that was typed: `no`, `1:30` and `010` are words here, not a truth value, a time or an octal number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml

from ..notation.message import say, verbatim
from .faults import BadLine, BadYaml, Fault, TabIndent, YamlTrap
from .span import Lines, Place, Span, Text
from .traps import find_traps

MAX_DEPTH = 6
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_ENTRY = re.compile(r"""(?P<name>'[^']*'|"[^"]*"|[^\s#:'"\-\[\]{},&*!|>%@`][^:\n]*?)[ ]*:(?=\s|$)""")
_NO_SPACE = re.compile(r"[A-Za-z_]\w*:(?=\S)")
_CONTINUES = re.compile(r"[\s\-\]}#]|$")


@dataclass(frozen=True, slots=True)
class Scalar:
    """A single value. `style` is "" (plain), `'`, `"`, `|` or `>`; `start` and `end` are offsets in the file, marks included."""

    text: Text
    style: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Sequence:
    items: tuple[Node, ...]
    flow: bool
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Mapping:
    entries: tuple[Entry, ...]
    flow: bool
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Alias:
    """A value given by reference (`*x`): never followed."""

    start: int
    end: int


Node = Scalar | Sequence | Mapping | Alias


@dataclass(frozen=True, slots=True)
class Entry:
    """A field: its name and its value (None: the value could not be read, and a fault says why)."""

    name: Text
    value: Node | None


class _NotPlain(Exception):
    """The front matter is valid YAML and still not a list of fields (nested too deeply, odd keys)."""


def read_entries(lines: Lines, start: int, end: int) -> tuple[tuple[Entry, ...], tuple[Fault, ...]]:
    """The fields between two offsets of a file. Where YAML stumbles, each field is read alone so that all faults are found."""
    try:
        return _compose(lines, start, end), ()
    except (yaml.YAMLError, _NotPlain):
        return _one_by_one(lines, start, end)


def _compose(lines: Lines, start: int, end: int) -> tuple[Entry, ...]:
    events: Iterator[Any] = yaml.parse(lines.text[start:end], Loader=_LOADER)
    found: tuple[Entry, ...] = ()
    for event in events:
        if isinstance(event, yaml.NodeEvent):
            node = _node(event, events, lines, start, 0)
            if isinstance(node, Scalar) and not node.text.value:
                continue
            if not isinstance(node, Mapping):
                raise _NotPlain
            found += node.entries
    return found


def _node(event: Any, events: Iterator[Any], lines: Lines, offset: int, depth: int) -> Node:
    start, end = int(event.start_mark.index) + offset, int(event.end_mark.index) + offset
    if depth > MAX_DEPTH:
        raise _NotPlain
    if isinstance(event, yaml.AliasEvent):
        return Alias(start, end)
    if isinstance(event, yaml.ScalarEvent):
        return Scalar(located(event.value, event.style or "", lines, start, end), event.style or "", start, end)
    children: list[Node] = []
    for inner in events:  # the iterator is shared: children take their own events from it
        if isinstance(inner, yaml.SequenceEndEvent | yaml.MappingEndEvent):
            mark: Any = inner.end_mark
            end = max(end, mark.index + offset)
            break
        children.append(_node(inner, events, lines, offset, depth + 1))
    flow = bool(event.flow_style)
    if isinstance(event, yaml.SequenceStartEvent):
        return Sequence(tuple(children), flow, start, end)
    return Mapping(tuple(_entry(k, v) for k, v in zip(children[::2], children[1::2], strict=True)), flow, start, end)


def _entry(name: Node, value: Node) -> Entry:
    if not isinstance(name, Scalar):
        raise _NotPlain
    return Entry(name.text, value)


def located(value: str, style: str, lines: Lines, start: int, end: int) -> Text:
    """The text of a scalar, given what YAML made of the characters from `start` to `end`, with the place of each character.

    The words of value and file are the same, in order; only quotes, escapes and white space differ, so walking over both finds each.
    """
    text, quoted = lines.text, style in {"'", '"'}
    if quoted:
        start, end = start + 1, end - 1
    if text[start:end] == value and not set(value) & set("\r\n"):
        return lines.piece(start, end)
    raw_at: list[int] = []
    here = start if style not in {"|", ">"} else min(lines.line_end(start), end)
    for char in value:
        place = here
        if not char.isspace():
            while place < end and text[place] != char and (text[place].isspace() or (style == '"' and text[place] == "\\")):
                place += 1
            doubled = (style == "'" and char == "'") or (style == '"' and text[place : place + 1] == "\\")
            here = place + (2 if doubled else 1)
        elif place < end and text[place].isspace():
            here = place + 1
        raw_at.append(min(place, end))
    _settle_spaces(value, raw_at, text)
    places = [lines.place(at) for at in raw_at]
    stop = lines.place(min(here, end)) if raw_at else lines.place(min(start, end))
    first = places[0] if places else stop
    return Text(value, Span(lines.path, first, max(stop, first)), _runs(places))


def _settle_spaces(value: str, raw_at: list[int], text: str) -> None:
    """White space before a word stands directly before it where the file has it so (indented lines of a block)."""
    for run in re.finditer(r"\s+(?=\S)", value):
        begin = raw_at[run.end()] - len(run[0])
        if text[begin : begin + len(run[0])] == run[0]:
            raw_at[run.start() : run.end()] = range(begin, begin + len(run[0]))


def _runs(places: list[Place]) -> tuple[tuple[int, Place], ...]:
    """Only where a character does not stand right after the one before it."""
    return tuple((k, place) for k, place in enumerate(places) if k == 0 or place != places[k - 1].shifted(1))


def _one_by_one(lines: Lines, start: int, end: int) -> tuple[tuple[Entry, ...], tuple[Fault, ...]]:
    entries: list[Entry] = []
    faults: list[Fault] = []
    for begin, stop in _chunks(lines, start, end):
        match = _ENTRY.match(lines.text, begin, stop)
        if match is None:
            raw = lines.text[begin : lines.line_end(begin)]
            indent = len(raw) - len(raw.lstrip())
            if raw[:indent].count("\t"):
                faults.append(TabIndent(lines.span(begin, begin + indent)))
            elif raw.strip():
                unspaced = _NO_SPACE.match(raw)
                faults.append(BadLine(lines.span(begin + indent, begin + len(raw.rstrip())), raw.strip(), bool(unspaced)))
                if unspaced:
                    entries.append(Entry(lines.piece(begin, begin + unspaced.end() - 1), None))
            continue
        try:
            entries.extend(_compose(lines, begin, stop))
        except (yaml.YAMLError, _NotPlain) as error:
            name = lines.piece(*match.span("name"))
            entries.append(Entry(name, None))
            faults.extend(_why(lines, name, (begin, match.end(), stop), error))
    return tuple(entries), tuple(faults)


def _chunks(lines: Lines, start: int, end: int) -> Iterator[tuple[int, int]]:
    """The offsets of each field: a line that begins at the margin and the lines that belong to it."""
    begin, at = start, start
    while at < end:
        if at > begin and not _CONTINUES.match(lines.text[at : lines.line_end(at)]):
            yield begin, at
            begin = at
        elif at == begin and not _ENTRY.match(lines.text, at):  # a line on its own, or a comment: nothing hangs on it
            yield begin, min(_next_line(lines, at), end)
            begin = min(_next_line(lines, at), end)
        at = _next_line(lines, at)
    if begin < end:
        yield begin, end


def _next_line(lines: Lines, offset: int) -> int:
    stop = lines.line_end(offset)
    return stop + (2 if lines.text.startswith("\r\n", stop) else 1)


def _why(lines: Lines, name: Text, offsets: tuple[int, int, int], error: Exception) -> list[Fault]:
    """Why a field (from where it begins, its value begins, to its end) cannot be read: tabs, the usual traps, or what YAML says."""
    begin, start, end = offsets
    tab = re.search(r"(?<=[\r\n])[ ]*\t+", lines.text[start:end])
    if tab:
        return [TabIndent(lines.span(start + tab.start(), start + tab.end()))]
    traps = find_traps(lines.text, start, end)
    if traps:
        return [YamlTrap(lines.span(at, stop), name.value, kind, lines.text[at:stop]) for kind, at, stop in traps]
    mark = getattr(error, "problem_mark", None)
    at = min(begin + mark.index, max(end - 1, start)) if mark else start
    problem = getattr(error, "problem", None)
    said = verbatim(str(problem)) if problem else say("it is nested too deeply")
    return [BadYaml(lines.span(at, min(at + 1, lines.line_end(at))), said)]
