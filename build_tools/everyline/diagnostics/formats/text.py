"""Diagnostics for a terminal: where it is (with the line and the place marked), what is wrong, what to try."""

from __future__ import annotations

import textwrap
import unicodedata
from collections import Counter
from collections.abc import Iterable
from typing import Protocol

from ...notation.message import Translate, say, sentence
from ...source.span import Span
from ..diagnostic import Diagnostic, told
from ..kind import kind
from ..order import in_order

WIDTH = 100
EXCERPT = 84
#: In a brief list: how many notices of a kind are several, and how many faults of a kind are shown of one file.
SEVERAL, MOST = 3, 4
_MARGIN = " " * 7
_COLOURS = {"error": "31", "warning": "33", "notice": "36"}
_WORDS = {"error": sentence("Wrong"), "warning": sentence("Check"), "notice": sentence("Note")}
#: How many there are of each severity: of one, of several.
_COUNTS = {
    "error": (sentence("{count} error"), sentence("{count} errors")),
    "warning": (sentence("{count} warning"), sentence("{count} warnings")),
    "notice": (sentence("{count} notice"), sentence("{count} notices")),
}


class HasLines(Protocol):
    """Where the lines of the files come from."""

    def line(self, path: str, number: int) -> str | None:
        """The 1-based line, or None."""


def render(
    diagnostics: Iterable[Diagnostic], lines: HasLines, *, colour: bool = False, root: str = "", brief: bool = False, tell: Translate = str
) -> str:
    """All diagnostics, one under the other, and a last line that counts them. `root` (`content/`) is put before each path.

    `brief` is for a whole book: notices of one kind become one line, and of many faults of one kind in one file the first are shown.
    `tell` says a sentence in the language of the book.
    """
    ordered = in_order(diagnostics)
    grouped = _grouped(ordered, tell) if brief else {}
    shown = [each for each in ordered if each.code not in grouped]
    total, seen = Counter(map(_file_and_kind, shown)), Counter[tuple[str, str]]()
    blocks: list[str] = []
    for each in shown:
        place = _file_and_kind(each)
        seen[place] += 1
        if not brief or seen[place] <= MOST:
            blocks.append(render_one(each, lines, colour=colour, root=root, tell=tell))
        if brief and seen[place] == MOST < total[place]:
            more = say("… and {count} more `{code}` in {file}", count=total[place] - MOST, code=each.code, file=root + visible(place[0]))
            blocks[-1] += f"\n{_MARGIN}{told(more, tell)}"
    notes = [f"{_painted(tell(_WORDS['notice']), _COLOURS['notice'] if colour else '')} · {line}" for line in grouped.values()]
    return "".join(f"{block}\n\n" for block in [*blocks, *notes]) + summary(ordered, tell) + "\n"


def _grouped(ordered: Iterable[Diagnostic], tell: Translate) -> dict[str, str]:
    """A line for each kind of notice that there are several of."""
    counts = Counter(each.code for each in ordered if each.severity == "notice")
    several = sentence("{title}, {count} times (shown one by one with -v)")
    said = {code: say(several, title=tell(kind(code).title), count=count) for code, count in counts.items() if count >= SEVERAL}
    return {code: f"{code}: {told(line, tell)}" for code, line in said.items()}


def _file_and_kind(diagnostic: Diagnostic) -> tuple[str, str]:
    return (diagnostic.labels[0].span.path if diagnostic.labels else "", diagnostic.code)


def render_one(diagnostic: Diagnostic, lines: HasLines, *, colour: bool = False, root: str = "", tell: Translate = str) -> str:
    """One diagnostic, without a line break at the end."""
    paint = _COLOURS.get(diagnostic.severity, "0") if colour else ""
    out = [f"{_painted(tell(_WORDS.get(diagnostic.severity, 'Note')), paint)} · {diagnostic.code}"]
    for number, label in enumerate(diagnostic.labels):
        title = f"{tell('Where' if number == 0 else 'and'):<{len(_MARGIN)}}"
        out.extend(_where(title, label.span, told(label.text, tell), lines, paint, root))
    help = told(diagnostic.help, tell)
    out.extend(_section(tell("What"), told(diagnostic.headline, tell)))
    out.extend(_section("", *(told(note, tell) for note in diagnostic.notes)))
    out.extend(_section(tell("Try"), help))
    if diagnostic.replacement and diagnostic.replacement.text not in help:
        out.append(_MARGIN + visible(diagnostic.replacement.text))
    return "\n".join(out)


def summary(diagnostics: Iterable[Diagnostic], tell: Translate = str) -> str:
    """`2 errors, 1 warning` or `Nothing to mend.`"""
    counts = dict.fromkeys(_WORDS, 0)
    for each in diagnostics:
        counts[each.severity] += 1
    said = [told(say(_COUNTS[severity][n > 1], count=n), tell) for severity, n in counts.items() if n]
    return ", ".join(said) + "." if said else tell("Nothing to mend.")


def _where(title: str, span: Span, said: str, lines: HasLines, paint: str, root: str) -> list[str]:
    head = f"{title}{root}{visible(span.path)}:{span.start.line}:{span.start.column}"
    shown = [head + (f"  ({said})" if said else "")]
    line = lines.line(span.path, span.start.line)
    if line is not None and line.strip():
        excerpt, before, marks = _excerpt(line, span)
        shown += [_MARGIN + "  " + excerpt, _MARGIN + "  " + " " * before + _painted("^" * marks, paint)]
    return shown


def _excerpt(line: str, span: Span) -> tuple[str, int, int]:
    """The line, or the part of a long one around the place; the cells before the mark, and the length of the mark in cells."""
    start = min(span.start.column - 1, len(line))
    end = min(span.end.column - 1, len(line)) if span.end.line == span.start.line else len(line)
    end = max(end, start)
    first, last = 0, len(line)
    if cells(line) > EXCERPT:
        first = max(0, min(start - EXCERPT // 4, len(line) - EXCERPT))
        while cells(line[first:last]) > EXCERPT and last > first + 1:
            last -= max(1, (cells(line[first:last]) - EXCERPT) // 2)
    head, tail = "… " if first else "", " …" if last < len(line) else ""
    end = min(end, last)
    return head + visible(line[first:last]) + tail, cells(head + line[first:start]), max(cells(line[start:end]), 1)


def cells(text: str) -> int:
    """How many columns of a terminal a text takes (Unicode Standard Annex 11: wide and fullwidth take two; marks none)."""
    return sum(_cell(char) for char in text)


def _cell(char: str) -> int:
    if unicodedata.category(char) in {"Mn", "Me"} or char == "\u200d":
        return 0
    return 2 if unicodedata.east_asian_width(char) in {"W", "F"} else 1


def visible(text: str) -> str:
    """The text with nothing in it that could move the cursor or turn the direction of writing; as many cells as before."""
    return "".join(_seen(char) for char in text)


def _seen(char: str) -> str:
    if char == "\t":
        return " "
    return "\ufffd" if unicodedata.category(char) in {"Cc", "Cf", "Cs", "Zl", "Zp"} and char != "\u200d" else char


def _section(title: str, *paragraphs: str) -> list[str]:
    out: list[str] = []
    wrapped = textwrap.TextWrapper(WIDTH, subsequent_indent=_MARGIN, break_long_words=False, break_on_hyphens=False)
    for paragraph in paragraphs:
        for line in paragraph.split("\n"):
            wrapped.initial_indent = _MARGIN if out else f"{title:<{len(_MARGIN)}}"
            out.extend(wrapped.wrap(visible(line)) if line else [])
    return out


def _painted(text: str, paint: str) -> str:
    return f"\033[{paint}m{text}\033[0m" if paint else text
