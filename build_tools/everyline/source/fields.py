"""From the fields of a front matter to values: every fault is kept, none stops the reading."""

from __future__ import annotations

import datetime
import re
from collections.abc import Collection
from difflib import get_close_matches

from ..notation.message import either, say, sentence
from .faults import (
    BadLink,
    BadValue,
    DuplicateField,
    EmptyField,
    Fault,
    MissingField,
    RawHtml,
    UnknownField,
    UnknownMethod,
    WrongType,
    YamlTrap,
)
from .nodes import Alias, Entry, Mapping, Node, Scalar, Sequence
from .schema import SYNONYMS, Field
from .span import Lines, Span, Text
from .traps import bad_escape, cut_by_remark

HTML = re.compile(r"<(?:!--|/?[A-Za-z][A-Za-z0-9-]*(?:\s[^<>]*)?/?>)|\bjavascript:", re.IGNORECASE)
_TABLE, _LIST, _ONE = sentence("names and values"), sentence("a list"), sentence("one value")
_FOUND = {Mapping: _TABLE, Sequence: _LIST, Scalar: _ONE}


def nearest(name: str, known: Collection[str]) -> str:
    """The valid name that was probably meant, or an empty string."""
    wanted = name.strip().lower().replace("-", "_")
    if SYNONYMS.get(wanted) in known:
        return SYNONYMS[wanted]
    alike = {k.lower().replace("-", "_"): k for k in sorted(known)}
    found = get_close_matches(wanted, alike, n=1, cutoff=0.6)
    return alike[found[0]] if found else ""


def is_day(text: str) -> bool:
    """Whether a text is a day of the calendar as `2027-03-01` (ISO 8601, extended form)."""
    try:
        return bool(re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII)) and bool(datetime.date.fromisoformat(text))
    except ValueError:
        return False


class Fields:
    """The fields of one file, read by name. `faults` grows as they are read; a value that is wrong reads as absent."""

    def __init__(self, lines: Lines, entries: tuple[Entry, ...], schema: tuple[Field, ...], top: Span) -> None:
        self.lines = lines
        self.faults: list[Fault] = []
        self._schema = {field.name: field for field in schema}
        self._values: dict[str, Node | None] = {}
        names: dict[str, Span] = {}
        for entry in entries:
            name = entry.name.value
            if name in names:
                self.faults.append(DuplicateField(entry.name.span, name, names[name]))
                continue
            names[name] = entry.name.span
            if name not in self._schema:
                known = tuple(self._schema)
                self.faults.append(UnknownField(entry.name.span, name, nearest(name, known), known))
                continue
            self._values[name] = entry.value
            if self._schema[name].required and isinstance(entry.value, Scalar) and self._blank(entry.value):
                self.faults.append(EmptyField(entry.name.span, name))
        self.faults.extend(MissingField(top, f.name) for f in schema if f.required and f.name not in names)

    def formula(self, name: str) -> Text | None:
        """One formula. In `domain` an interval in square brackets is meant as one, not as a list."""
        node = self._values.get(name)
        if (
            name == "domain"
            and isinstance(node, Sequence)
            and node.flow
            and not self._marked(node)
            and self.lines.line_end(node.start) >= node.end
        ):
            return self.lines.piece(node.start, node.end)
        return self._one(name, node)

    def formulas(self, name: str) -> tuple[Text, ...]:
        return self._many(name)

    def words(self, name: str) -> Text | None:
        """One text in plain words or Markdown, without HTML."""
        return self._plain(name, self._one(name, self._values.get(name)))

    def word_list(self, name: str) -> tuple[Text, ...]:
        return tuple(text for text in self._many(name) if self._plain(name, text))

    def techniques(self, name: str, known: Collection[str] | None) -> tuple[Text, ...]:
        """Names of techniques, each one of `known` (None: any)."""
        found = self._many(name)
        unknown = [text for text in found if known is not None and text.value not in known]
        for text in unknown:
            assert known is not None
            self.faults.append(UnknownMethod(text.span, name, text.value, nearest(text.value, known), tuple(sorted(known))))
        return tuple(text for text in found if text not in unknown)

    def choice(self, name: str, default: str) -> str:
        text = self._one(name, self._values.get(name))
        if text is None:
            return default
        choices = self._schema[name].choices
        if text.value in choices:
            return text.value
        self.faults.append(BadValue(text.span, name, text.value, either(choices), nearest(text.value, choices)))
        return default

    def whole(self, name: str, default: int) -> int:
        text = self.whole_text(name)
        return default if text is None else int(text.value)

    def whole_text(self, name: str) -> Text | None:
        """A whole number as it was typed, with its place."""
        text = self._one(name, self._values.get(name))
        if text is None or re.fullmatch(r"-?[0-9]{1,9}", text.value):
            return text
        self.faults.append(BadValue(text.span, name, text.value, say("a whole number, such as {number}", number=3)))
        return None

    def date(self, name: str) -> Text | None:
        """A day as `2027-03-01` (ISO 8601 calendar date, extended form)."""
        text = self._one(name, self._values.get(name))
        if text is None or is_day(text.value):
            return text
        allowed = say("a day of the calendar written as year-month-day, such as {day}", day="2027-03-01")
        self.faults.append(BadValue(text.span, name, text.value, allowed))
        return None

    def times(self, name: str) -> tuple[Text, ...]:
        """Places in a film, as minutes and seconds (`1:05`) or hours, minutes and seconds (`1:02:30`)."""
        found = self._many(name)
        wrong = [text for text in found if not re.fullmatch(r"(?:\d{1,2}:[0-5]\d|\d{1,3}):[0-5]\d", text.value)]
        allowed = say("minutes and seconds, such as {time}", time="1:05")
        self.faults.extend(BadValue(text.span, name, text.value, allowed) for text in wrong)
        return tuple(text for text in found if text not in wrong)

    def address(self, name: str) -> Text | None:
        """The address of a web page, `https://…` or `http://…`."""
        text = self._one(name, self._values.get(name))
        if text is None or re.fullmatch(r"https?://[^\s<>\"'`\\]+", text.value):
            return text
        self.faults.append(BadLink(text.span, text.value))
        return None

    def table(self, name: str, known: tuple[str, ...] = ()) -> tuple[tuple[Text, Text], ...] | None:
        """Names and their values, in order. With `known`, exactly these names are wanted."""
        node = self._values.get(name)
        if node is None or (isinstance(node, Scalar) and self._blank(node)):
            return None
        if not isinstance(node, Mapping) or self._marked(node):
            self._wrong_type(name, node, _TABLE)
            return None
        pairs: list[tuple[Text, Text]] = []
        names: dict[str, Span] = {}
        for entry in node.entries:
            inner = entry.name.value
            if inner in names:
                self.faults.append(DuplicateField(entry.name.span, inner, names[inner]))
            elif known and inner not in known:
                self.faults.append(UnknownField(entry.name.span, inner, nearest(inner, known), known, name))
            elif (text := self._one(inner, entry.value)) is not None:
                pairs.append((entry.name, text))
            names.setdefault(inner, entry.name.span)
        missing = [k for k in known if k not in {n.value for n, _ in pairs}]
        self.faults.extend(MissingField(self._at(node), k, name) for k in missing if k not in names)
        return None if missing else tuple(pairs)

    def _blank(self, node: Scalar) -> bool:
        return not node.text.value.strip() and self._trap(node) is None and node.style not in {"|", ">"}

    def _one(self, name: str, node: Node | None) -> Text | None:
        if node is None:
            return None
        if not isinstance(node, Scalar):
            self._wrong_type(name, node, _ONE)
            return None
        trap = self._trap(node)
        if trap:
            stop = max(node.end, self.lines.line_end(node.start)) if trap == "hash" else node.end
            self._trapped(name, trap, node.start, stop)
            return None
        text = node.text.stripped()
        return text if text.value else None

    def _many(self, name: str) -> tuple[Text, ...]:
        node = self._values.get(name)
        if isinstance(node, Sequence) and self._marked(node):
            self._wrong_type(name, node, _LIST)
            return ()
        items = node.items if isinstance(node, Sequence) else (node,)
        texts: list[Text] = []
        for item in items:
            text = self._one(name, item)
            if text is not None:
                texts.append(text)
            elif isinstance(node, Sequence) and isinstance(item, Scalar) and self._blank(item):
                self.faults.append(EmptyField(self._at(item), name))
        if isinstance(node, Sequence) and not items and name in self._schema and self._schema[name].required:
            self.faults.append(EmptyField(self._at(node), name))
        return tuple(texts)

    def _marked(self, node: Node) -> str | None:
        """The trap of a value that is named, typed or given by reference: such values are not read, let alone followed."""
        return {"&": "and", "!": "exclamation"}.get(self.lines.text[node.start : node.start + 1]) if not isinstance(node, Alias) else "star"

    def _trap(self, node: Scalar) -> str | None:
        """How YAML has read this scalar otherwise than it looks."""
        raw = self.lines.text[node.start : node.end]
        if self._marked(node):
            return self._marked(node)
        if node.style in {"|", ">"}:
            return None if node.text.value.strip() else ("bar" if node.style == "|" else "greater")
        if node.style == '"' and bad_escape(raw):
            return "double-quote"
        rest = self.lines.text[node.end : self.lines.line_end(node.end)]
        return "hash" if cut_by_remark(rest) else None

    def _trapped(self, name: str, kind: str, start: int, end: int) -> None:
        end = min(end, max(self.lines.line_end(start), start))
        raw = self.lines.text[start:end]
        stripped = raw.strip()
        begin = start + len(raw) - len(raw.lstrip())
        self.faults.append(YamlTrap(self.lines.span(begin, begin + len(stripped)), name, kind, stripped))

    def _wrong_type(self, name: str, node: Node, wanted: str) -> None:
        """A wrong shape; where it comes from how YAML reads a formula, that is said instead."""
        marked = self._marked(node)
        if isinstance(node, Alias) or marked:
            return self._trapped(name, marked or "star", node.start, self.lines.line_end(node.start))
        if wanted == _ONE and not isinstance(node, Scalar) and node.flow:
            return self._trapped(name, "brackets" if isinstance(node, Sequence) else "braces", node.start, node.end)
        if wanted == _ONE and isinstance(node, Mapping) and name not in self._at_margin(node):
            return self._trapped(name, "colon", node.start, self.lines.line_end(node.start))
        example = self._schema[name].example if name in self._schema else ""
        self.faults.append(WrongType(self._at(node), name, wanted, _FOUND[type(node)], example))
        return None

    def _at_margin(self, node: Mapping) -> tuple[str, ...]:
        """The names of the fields that take a table as such: only under a list item does a table come from a stray colon."""
        before = self.lines.text[self.lines.bounds(self.lines.place(node.start).line)[0] : node.start]
        return () if before.strip().startswith("-") else tuple(self._schema)

    def _at(self, node: Node) -> Span:
        return self.lines.span(node.start, min(max(node.end, node.start + 1), max(self.lines.line_end(node.start), node.start)))

    def _plain(self, name: str, text: Text | None) -> Text | None:
        tag = HTML.search(text.value) if text else None
        if text is None or tag is None:
            return text
        self.faults.append(RawHtml(text.part(*tag.span()), tag[0], name))
        return None
