"""Marking a class: a table of answers in, a mark for each, and what the class as a whole got wrong."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ..notation.message import Message, Translate, say
from ..source.problem import Conventions
from ..source.table import Table, named, read_table, value_of, write_table
from .asked import Asked, Item
from .marking import UNDECIDED, UNREAD, Handed, Mark, mark
from .words import stopped
from .workers import Limits, Overrun, run

#: The columns of a table of answers and what people call them, the best name first.
COLUMNS = {
    "student": ("student", "studentname", "name", "fullname", "pupil", "pupilname", "learner", "candidate", "email", "emailaddress"),
    "problem": ("problem", "question", "exercise", "task", "path", "file", "title"),
    "version": ("version", "sheetversion", "sheet", "paper"),
    "number": ("number", "problemnumber", "questionnumber", "no", "nr", "n", "q"),
    "answer": ("answer", "answers", "finalanswer", "response", "result", "studentanswer", "youranswer"),
    "working": ("working", "workings", "lines", "steps", "work", "solution", "showyourworking"),
}
OURS = ("Mark", "Slip", "What was found", "Working", "First wrong line")
#: A form has one column for each question: `3`, `Q3`, `Problem 3`, `3. Find …`.
_ONE_QUESTION = re.compile(
    r"(?:question|problem|answer|exercise|task|number|item|no|nr|q|#)?\s*\.?\s*(\d{1,3})(?:\s*[.):\-–].*|\s*)", re.IGNORECASE | re.DOTALL
)
MAX_ROWS = 100_000


@dataclass(frozen=True, slots=True)
class Row:
    """One answer in the file: its line there, who gave it, the item it answers (or why there is none), and what was handed in."""

    line: int
    student: str
    item: Item | Message
    answer: str
    working: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Answers:
    """A class's answers as read; `columns` are the names of the cells that each row keeps."""

    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    delimiter: str


@dataclass(frozen=True, slots=True)
class Tally:
    """What became of one problem: how many answers got each mark, and how many each slip."""

    item: Item
    marks: Counter[str]
    slips: Counter[str]


@dataclass(frozen=True, slots=True)
class Summary:
    """A class's result. `slips` are (id, name, how often), the most common first; `lost` rows belong to no problem of the sheet."""

    tallies: tuple[Tally, ...]
    slips: tuple[tuple[str, str, int], ...]
    students: int
    answers: int
    lost: int


def read_answers(data: bytes, asked: Asked) -> Answers:
    """The answers in a table: one row an answer, or (as forms write them) one row a student with a column for each question.

    Raises:
        ValueError: there is no table with answers in it.
    """
    table = read_table(data, named(COLUMNS))
    if table is None:
        raise ValueError("no table was found: the first row should name its columns, such as student, number, answer")
    if len(table.rows) > MAX_ROWS:
        raise ValueError(f"there are {len(table.rows):,} rows; the most is {MAX_ROWS:,}")
    place = {name: table.column(names) for name, names in COLUMNS.items()}
    if place["answer"] is None and place["working"] is None:
        return _from_form(table, place, asked)
    kept = [n for n, column in enumerate(table.columns) if column not in OURS]
    rows = []
    for line, cells in zip(table.lines, table.rows, strict=True):
        said = {name: value_of(cells, column) for name, column in place.items()}
        item = asked.find(said["problem"], said["version"], said["number"])
        if table.overfull(cells):
            item = say("the row has more cells than there are columns: put answers with a comma in quotation marks")
        rows.append(Row(line, said["student"], item, said["answer"], said["working"], tuple(cells[n] for n in kept)))
    return Answers(tuple(table.columns[n] for n in kept), tuple(rows), table.delimiter)


def _from_form(table: Table, place: dict[str, int | None], asked: Asked) -> Answers:
    """One row for each question of each student."""
    questions = {n: int(found[1]) for n, column in enumerate(table.columns) if (found := _ONE_QUESTION.fullmatch(column))}
    if not questions:
        raise ValueError("there is no column of answers: call it “answer”, or name one column for each problem by its number")
    kept = [n for n in range(len(table.columns)) if n not in questions]
    rows = [
        Row(
            line, value_of(cells, place["student"]), asked.find("", value_of(cells, place["version"]), str(number)), cells[n], "",
            (*(cells[k] for k in kept), str(number), cells[n]),
        )
        for line, cells in zip(table.lines, table.rows, strict=True)
        for n, number in questions.items()
    ]  # fmt: skip
    return Answers((*(table.columns[k] for k in kept), "Number", "Answer"), tuple(rows), table.delimiter)


def mark_answers(answers: Answers, conventions: Conventions, *, workers: int = 1, seconds: float = 5.0) -> tuple[Mark, ...]:
    """A mark for every row, in order. Each different answer is judged once, in a process that is ended at its limit."""
    handed = [_handed(row, conventions, seconds) for row in answers.rows]
    different = list(dict.fromkeys(each for each in handed if isinstance(each, Handed)))
    results = run(mark, different, workers=workers, limits=Limits(4 * seconds + 5)) if different else iter(())
    marks = {each: _or_overrun(result) for each, result in zip(different, results, strict=True)}
    return tuple(marks[each] if isinstance(each, Handed) else each for each in handed)


def _handed(row: Row, conventions: Conventions, seconds: float) -> Handed | Mark:
    item = row.item
    if isinstance(item, Message):
        return Mark(UNREAD, (item,))
    if item.question is None:
        return Mark(UNDECIDED, (say("the question of {path} has a fault of its own: run everyline check", path=item.path),))
    said = conventions
    return Handed(item.question, item.key, row.answer, row.working, said.log, said.decimal, said.constant, seconds)


def _or_overrun(result: Mark | Overrun) -> Mark:
    if isinstance(result, Mark):
        return result
    return Mark(UNDECIDED, (stopped(result.what),))


def marked_table(answers: Answers, marks: Sequence[Mark], tell: Translate = str) -> bytes:
    """The answers as they came, with what was found beside each in the language that `tell` speaks, as a file that any spreadsheet
    opens. The columns are called the same in every language, so that a file can be marked again."""
    rows = (
        (*row.cells, tell(each.mark), tell(each.title), each.found(tell), each.worked(tell), str(each.line or ""))
        for row, each in zip(answers.rows, marks, strict=True)
    )
    return write_table((*answers.columns, *OURS), rows, answers.delimiter)


def summary(answers: Answers, marks: Sequence[Mark], asked: Asked) -> Summary:
    """What the class got wrong, and where."""
    pairs = list(zip(answers.rows, marks, strict=True))
    found = [(row.item, each) for row, each in pairs if isinstance(row.item, Item)]
    titles = {each.slip: each.title for each in marks if each.slip}
    often = Counter(each.slip for each in marks if each.slip)
    return Summary(
        tuple(_tally(item, (each for one, each in found if one is item)) for item in asked.items),
        tuple((slip, titles[slip], count) for slip, count in sorted(often.items(), key=lambda pair: (-pair[1], titles[pair[0]]))),
        len({row.student for row in answers.rows if row.student}),
        len(pairs),
        sum(isinstance(row.item, Message) for row in answers.rows),
    )


def _tally(item: Item, marks: Iterable[Mark]) -> Tally:
    given = list(marks)
    return Tally(item, Counter(each.mark for each in given), Counter(each.slip for each in given if each.slip))


def unread(answers: Answers, marks: Sequence[Mark]) -> Iterator[tuple[Row, Mark]]:
    """The rows that a person must look at: not read, or not decided."""
    return ((row, each) for row, each in zip(answers.rows, marks, strict=True) if each.mark in (UNREAD, UNDECIDED))
