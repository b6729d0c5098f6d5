"""A class's result for its teacher: in the terminal, and as a picture without any student's name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from ..book.class_marks import Row, Summary, Tally
from ..book.marking import MARKS, NOTHING, RIGHT, UNDECIDED, UNREAD, WRONG, Mark
from ..diagnostics.formats.text import visible
from ..language import Tell, translator
from ..notation.message import sentence
from .markup import bare, element, escape, shorten

_SHOWN = {
    RIGHT: sentence("Right"),
    WRONG: sentence("Wrong"),
    UNREAD: sentence("Not read"),
    UNDECIDED: sentence("Not decided"),
    NOTHING: sentence("No answer"),
}
_LOST = sentence("{count} rows could not be put to a problem of the sheet.")
ENGLISH = translator("en")
_LEFT, _CELL, _ROW, _TOP = 420, 38, 26, 74
#: Shades for right and for everything else; the text on them keeps a contrast of at least 4.5 : 1 at the strengths used.
_GREEN, _AMBER = "#2e7d5b", "#c77700"


def as_text(summary: Summary, tell: Tell = ENGLISH) -> str:
    """Problem by problem, then the slips, the most common first, in the language that `tell` speaks."""
    width = max((len(_name(tally)) for tally in summary.tallies), default=0)
    shown = [mark for mark in MARKS if any(tally.marks[mark] for tally in summary.tallies)]
    heads = [tell(_SHOWN[mark]) for mark in shown]
    wide = max((11, *map(len, heads)))
    lines = [_count(summary, tell), "", f"{'':{width}}  " + "  ".join(f"{head:>{wide}}" for head in heads)]
    for tally in summary.tallies:
        lines.append(f"{_name(tally):{width}}  " + "  ".join(f"{tally.marks[mark] or '–':>{wide}}" for mark in shown))
    if summary.slips:
        lines += ["", tell("Slips, the most common first:")]
        lines += [f"  {count:>4}  {tell(title)} ({', '.join(_where(summary, slip))})" for slip, title, count in summary.slips]
    if summary.lost:
        one = summary.lost == 1
        lost = tell("{count} row could not be put to a problem of the sheet." if one else _LOST, count=summary.lost)
        lines += ["", lost]
    return "\n".join(lines)


def to_look_at(rows: Iterable[tuple[Row, Mark]], tell: Tell = ENGLISH, most: int = 20) -> str:
    """The rows that a person must look at, one line each, each with its line in the file."""
    kept = list(rows)
    lines = [f"  {tell('line {line}', line=row.line)}: {_given(row, tell)}: {_marked_as(mark, tell)}" for row, mark in kept[:most]]
    more = [f"  … {tell('and {count} more; the marked file has them all.', count=len(kept) - most)}"] if len(kept) > most else []
    return "\n".join([tell("To be looked at by hand:"), *lines, *more]) if kept else ""


def _marked_as(mark: Mark, tell: Tell) -> str:
    note = visible(shorten(mark.note(tell), 160))
    return ": ".join(filter(None, (tell(mark.mark), note)))


def _given(row: Row, tell: Tell) -> str:
    said = [visible(shorten(text, 40)) for text in (row.student, row.answer) if text]
    return ", ".join(said) or tell("an empty row")


def _name(tally: Tally) -> str:
    return f"{tally.item.label:>3}  {visible(shorten(bare(tally.item.title), 36))}"


def _where(summary: Summary, slip: str) -> list[str]:
    return [f"{tally.item.label}: {tally.slips[slip]}" for tally in summary.tallies if tally.slips[slip]]


def _count(summary: Summary, tell: Tell) -> str:
    answers = tell("{count} answer" if summary.answers == 1 else "{count} answers", count=summary.answers)
    if not summary.students:
        return answers
    students = tell("{count} student" if summary.students == 1 else "{count} students", count=summary.students)
    return tell("{answers} of {students}", answers=answers, students=students)


def picture(summary: Summary, tell: Tell = ENGLISH) -> str:
    """The same as an SVG picture: problems across, marks and slips down, a number in every cell so that nothing rests on colour."""
    tallies = summary.tallies
    marks = [mark for mark in MARKS if any(tally.marks[mark] for tally in tallies)]
    rows = [*(_row(tell(_SHOWN[mark]), tallies, _marked(mark), _GREEN if mark == RIGHT else _AMBER, n) for n, mark in enumerate(marks))]
    gap = len(marks) + 1
    rows += [_row(tell(title), tallies, _slipped(slip), _AMBER, gap + n) for n, (slip, title, _) in enumerate(summary.slips)]
    below = _TOP + (gap + len(summary.slips) + 1) * _ROW
    names = [
        _text(16, below + 20 * n, f"{tally.item.label}  {shorten(bare(tally.item.title), 90)}", size=13) for n, tally in enumerate(tallies)
    ]
    width = max(_LEFT + _CELL * len(tallies) + 16, 720)
    height = below + 20 * len(tallies)
    heads = [_text(_LEFT + _CELL * n + _CELL // 2, _TOP - 12, tally.item.label, middle=True, bold=True) for n, tally in enumerate(tallies)]
    said = f"{_count(summary, tell)}. " + " ".join(f"{tell(title)}: {count}." for _, title, count in summary.slips)
    heading = tell("How the class did")
    return element(
        "svg",
        element("title", escape(heading)),
        element("desc", escape(said)),
        element("rect", width=width, height=height, fill="#ffffff"),
        _text(16, 30, heading, size=19, bold=True),
        _text(16, 50, _count(summary, tell), size=13),
        *heads,
        *rows,
        _text(16, _TOP + len(marks) * _ROW + 19, tell("Slips"), bold=True) if summary.slips else "",
        *names,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {width} {height}",
        width=width,
        height=height,
        role="img",
        font_family="system-ui, sans-serif",
    )


def _marked(mark: str) -> Callable[[Tally], int]:
    return lambda tally: tally.marks[mark]


def _slipped(slip: str) -> Callable[[Tally], int]:
    return lambda tally: tally.slips[slip]


def _row(name: str, tallies: Sequence[Tally], count: Callable[[Tally], int], colour: str, place: int) -> str:
    top = _TOP + place * _ROW
    cells = [_cell(count(tally), tally.marks.total(), colour, _LEFT + _CELL * n, top) for n, tally in enumerate(tallies)]
    return _text(16, top + 18, shorten(name, 66), size=13) + "".join(cells)


def _cell(count: int, total: int, colour: str, left: int, top: int) -> str:
    strength = f"{0.12 + 0.38 * count / total:.2f}" if count else "0"
    box = element(
        "rect", x=left + 1, y=top + 1, width=_CELL - 2, height=_ROW - 2, rx=3, fill=colour, fill_opacity=strength, stroke="#c9ccd1"
    )
    return box + (_text(left + _CELL // 2, top + 18, str(count), middle=True, size=13) if count else "")


def _text(x: int, y: int, words: str, *, middle: bool = False, bold: bool = False, size: int = 14) -> str:
    return element(
        "text",
        escape(words),
        x=x,
        y=y,
        font_size=size,
        fill="#1d2430",
        font_weight="600" if bold else None,
        text_anchor="middle" if middle else None,
    )
