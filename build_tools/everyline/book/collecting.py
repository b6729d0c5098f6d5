"""A list of questions and answers becomes problem files: a teacher's old worksheet, row by row."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..notation import plain
from ..notation.message import Message, Translate, fill, say, sentence
from ..source.load import RESERVED
from ..source.table import named, plain_name, read_table, write_table
from ..source.writing import file_name
from .drafting import Draft, Drafted, Drafting, drafted
from .words import stopped
from .workers import Limits, Overrun, run

#: What the fields of a problem are called in lists, the best name first.
COLUMNS = {
    "question": ("question", "problem", "exercise", "integral", "formula", "task"),
    "key": ("key", "answer", "answerkey", "solution", "result"),
    "title": ("title", "name"),
    "level": ("level", "difficulty"),
    "chapter": ("chapter", "folder", "section"),
    "given": ("given", "assume", "parameters"),
    "domain": ("domain", "on"),
    "author": ("author",),
    "source": ("source",),
    "license": ("license", "licence"),
    "hints": ("hint", "hints"),
}
MAX_ROWS, MAX_CELL = 20_000, 4_000
_OVERFULL = sentence("the row has more cells than there are columns: put formulas with a comma in quotation marks")


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a list: its line in the file, what it asks for, and the chapter it names; or why it cannot be taken."""

    line: int
    draft: Draft
    chapter: str = ""
    why: Message | None = None


@dataclass(frozen=True, slots=True)
class Result:
    """What became of a row: the path of its file (relative to the content folder), or why there is none."""

    row: Row
    path: str = ""
    data: bytes = b""
    why: Message | None = None
    remarks: tuple[Message, ...] = ()

    def said(self, tell: Translate = str) -> str:
        """Why there is no file, or what is to be said of it."""
        return " ".join(fill(each, plain, tell) for each in ((self.why,) if self.why else self.remarks))


def read_list(data: bytes, name: str) -> tuple[Row, ...]:
    """The rows of a list; a name that ends in `.jsonl` or `.json` holds rows of JSON, any other a table.

    Raises:
        ValueError: there is no column of questions, or there are too many rows.
    """
    rows = tuple(_from_json(data) if name.lower().endswith((".jsonl", ".json")) else _from_table(data))
    if len(rows) > MAX_ROWS:
        raise ValueError(f"there are {len(rows):,} rows; the most is {MAX_ROWS:,}")
    return rows


def _from_json(data: bytes) -> Iterator[Row]:
    for line, text in enumerate(data.decode("utf-8-sig", "replace").split("\n"), 1):
        if not text.strip():
            continue
        try:
            said = json.loads(text)
        except (ValueError, RecursionError):
            said = None
        if isinstance(said, dict):
            yield _row(line, {plain_name(str(name)): value for name, value in said.items()})
        else:
            yield Row(line, Draft(""), why=say("this line is not a JSON object"))


def _from_table(data: bytes) -> Iterator[Row]:
    table = read_table(data, named(COLUMNS))
    if table is None or table.column(COLUMNS["question"]) is None:
        raise ValueError("there is no column of questions: the first row should name the columns, such as question, answer, title")
    names = [plain_name(column) for column in table.columns]
    for line, cells in zip(table.lines, table.rows, strict=True):
        if table.overfull(cells):
            yield Row(line, Draft(cells[0]), why=say(_OVERFULL))
        else:
            yield _row(line, dict(reversed(list(zip(names, cells, strict=False)))))


def _row(line: int, said: Mapping[str, object]) -> Row:
    values: dict[str, tuple[str, ...]] = {}
    for field, known in COLUMNS.items():
        value = next((said[name] for name in known if name in said and said[name] not in (None, "")), "")
        items = value if isinstance(value, list) and field in ("key", "hints") else [value]
        if any(isinstance(item, bool) or not isinstance(item, str | int | float) for item in items):
            return Row(line, Draft(""), why=say("the field “{field}” must be text", field=field))
        values[field] = tuple(str(item).strip() for item in items if str(item).strip())
        if any(len(item) > MAX_CELL for item in values[field]):
            return Row(line, Draft(""), why=say("the field “{field}” is too long", field=field))
    one = {field: found[0] if found else "" for field, found in values.items()}
    if not one["question"]:
        return Row(line, Draft(""), why=say("there is no question"))
    draft = Draft(
        one["question"], values["key"], one["title"], one["level"], one["given"], one["domain"], hints=values["hints"],
        author=one["author"], source=one["source"], license=one["license"],
    )  # fmt: skip
    return Row(line, draft, one["chapter"])


def chapter_name(text: str) -> str:
    """A chapter's folder from what a list calls it: one plain name, whatever was written."""
    name = file_name(text)
    return f"chapter-{name}" if name in RESERVED else name


def collect(
    rows: Sequence[Row], settings: Mapping[str, Drafting], known: Iterable[str], there: Iterable[str], *, workers: int = 1
) -> Iterator[Result]:
    """A result for every row, in order.

    `settings` has a draft's surroundings for every chapter that a row names; `known` are the questions that the book asks already,
    `there` the paths that are taken.
    """
    asked = {row: replace(settings[row.chapter], draft=row.draft) for row in rows if not row.why}
    different = list(dict.fromkeys(asked.values()))
    seconds = max((each.seconds for each in different), default=1.0)
    results = run(drafted, different, workers=workers, limits=Limits(4 * seconds + 5)) if different else iter(())
    ready, made = zip(different, results, strict=True), dict[Drafting, Drafted | Overrun]()
    questions, paths = set(map(_plain, known)), set(there)
    for row in rows:
        while row in asked and asked[row] not in made:
            made.update([next(ready)])
        result = _result(row, made[asked[row]] if row in asked else None, questions, paths)
        if result.path:
            questions.add(_plain(row.draft.question))
            paths.add(result.path)
        yield result


def _plain(question: str) -> str:
    return "".join(question.split())


def _result(row: Row, made: Drafted | Overrun | None, questions: set[str], paths: set[str]) -> Result:
    if made is None:
        return Result(row, why=row.why)
    if isinstance(made, Overrun):
        return Result(row, why=stopped(made.what))
    if not made.proved:
        return Result(row, why=made.why)
    if _plain(row.draft.question) in questions:
        return Result(row, why=say("the book asks this question already"))
    return Result(row, free_path(row.chapter, made.slug, paths), made.data, remarks=made.remarks)


def free_path(chapter: str, slug: str, taken: set[str]) -> str:
    """The path of a file that is not there yet. Names are compared without case: some disks do so too."""
    lowered = {path.lower() for path in taken}
    names = (slug if n == 1 else f"{slug}-{n}" for n in range(1, len(lowered) + 2))
    return next(path for name in names if (path := f"{chapter}/{name}.md").lower() not in lowered)


def report_table(results: Iterable[Result], tell: Translate = str) -> bytes:
    """What became of every row, as a table, in the language that `tell` speaks. The columns are called the same in every language, so that
    its rows can be mended and read again."""
    rows = (
        (str(each.row.line), each.row.draft.question, "; ".join(each.row.draft.keys), tell("written" if each.path else "not written"),
         each.path, each.said(tell))
        for each in results
    )  # fmt: skip
    return write_table(("Line", "Question", "Answer", "Result", "File", "What was found"), rows)
