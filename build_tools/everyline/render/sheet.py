"""A sheet as a document: its versions, then their keys."""

from __future__ import annotations

from collections.abc import Sequence

from ..book.data import Book, KeyVerdict, Vouched
from ..book.sheets import Item, Sheet, Version
from ..derive.route import Line
from ..kernel import Checked
from ..notation.build import names
from ..notation.question import Question as Asked
from ..notation.tree import Inequality, Infinity, Interval, Name, Negative, Node, Region
from .errata import edition
from .markup import bare
from .paper.model import Block, Document, Key, Maths, Question, Title, Words, WorkedLine, Working, words_of
from .problem_page import ASKS
from .solutions import Unchecked, method

#: Room below a question in millimetres, by its level.
ROOM = {1: 32, 2: 50, 3: 72}
KEYS = ("none", "short", "full")


def document(sheet: Sheet, book: Book, *, key: str = "none", room: int | None = None) -> Document:
    """The sheet with its keys behind: `none`, `short` (answers) or `full` (worked solutions too).

    `room` is what is left free below every question, in millimetres; None: as much as its level wants.
    """
    blocks = [block for version in sheet.versions for block in _questions(version, sheet, room)]
    return _document(sheet, book, tuple(blocks) + (key_blocks(sheet, key) if key != "none" else ()))


def key_document(sheet: Sheet, book: Book, *, key: str = "short") -> Document:
    """The keys alone, each question with its answer."""
    return _document(sheet, book, key_blocks(sheet, key, questions=True))


def _document(sheet: Sheet, book: Book, blocks: tuple[Block, ...]) -> Document:
    said = (book.conventions.title, edition(book), book.conventions.license)
    address = book.conventions.address + page_address(sheet.path) if book.conventions.address else ""
    return Document(bare(sheet.title), blocks, " · ".join(filter(None, said)), address, book.conventions.language)


def page_address(path: str) -> str:
    """The address of a page below the site's own."""
    return path.removesuffix("index.md").removesuffix(".md") + ("/" if path and not path.endswith("index.md") else "")


def _questions(version: Version, sheet: Sheet, room: int | None) -> list[Block]:
    kinds = {item.question.kind for item in version.items}
    task = f"{ASKS[kinds.pop()]}." if len(kinds) == 1 else "Work out each of these."
    made: list[Block] = [Title(bare(sheet.title), (f"Version {version.label}. {task}" if version.label else task,), signed=True)]
    for number, item in enumerate(version.items, 1):
        space = ROOM[item.level] if room is None else room
        made.append(Question(number, item.question.node, conditions(item.question), space))
    return made


def key_blocks(sheet: Sheet, key: str, *, questions: bool = False) -> tuple[Block, ...]:
    """The keys of every version, each on a page of its own."""
    made: list[Block] = []
    for version in sheet.versions:
        label = f"Key to version {version.label}" if version.label else "Key"
        made.append(Title(f"{bare(sheet.title)}: {label[0].lower()}{label[1:]}"))
        for number, item in enumerate(version.items, 1):
            made += answer(item, number, key, questions=questions)
    return tuple(made)


def answer(item: Item, number: int, key: str, *, questions: bool = True) -> list[Block]:
    """One question's answers, and with the key `full` its worked solutions: the author's own first, then the preferred one."""
    questions = questions or key == "full"
    made: list[Block] = [Key(number, item.answers, _notes(item.keys), item.question.node if questions else None)]
    if key == "full":
        made += [working("As the author writes it", lines) for lines in item.hand]
        made += [working(method(route.method), route.lines) for route in item.routes[: 1 if item.hand else 2]]
    return made


def _notes(keys: Sequence[KeyVerdict]) -> Words:
    """What a teacher must know of a key that is not simply proved."""
    for verdict in keys:
        if isinstance(verdict.outcome, Vouched):
            return (f"{verdict.outcome.name} answers for this",)
        if isinstance(verdict.outcome, Checked) and verdict.outcome.grade != "proved":
            return (f"agrees to {verdict.outcome.digits} digits at {verdict.outcome.points} points",)
    return ()


def working(title: str, lines: Sequence[Line]) -> Working:
    """A worked solution.

    Raises:
        Unchecked: a line that nothing vouches for. Paper, too, has checked lines only.
    """
    rows = []
    for line in lines:
        if line.kind == "equal" and line.checked is None:
            raise Unchecked(title)
        rows.append(WorkedLine(line.kind, line.shown, line.left, words_of(line.reason), line.variable))
    return Working(title, None, tuple(rows))


def conditions(question: Asked) -> Words:
    """Where a question is asked and what is assumed of its letters; empty when there is nothing to say."""
    made: list[Words] = []
    if question.domain is not None:
        made.append(("for ", *_region(question.domain, question.variable)))
    letters: list[Words] = [(Maths(condition),) for condition in question.given.conditions]
    mentioned = frozenset(name for condition in question.given.conditions for name in names(condition))
    for parameter in question.given.parameters:
        if parameter.integer:
            letters.append((Maths(Name(parameter.name)), " a whole number"))
        elif parameter.name not in mentioned:
            letters.append((Maths(Name(parameter.name)), " a constant"))
    if letters:
        made.append(("where ", *_joined(letters, ", ")))
    return _joined(made, ", ")


def _joined(parts: Sequence[Words], between: str) -> Words:
    return tuple(piece for number, part in enumerate(parts) for piece in ((between, *part) if number else part))


def _region(domain: Region, variable: str) -> Words:
    parts = (domain,) if isinstance(domain, Interval) else domain.parts
    return _joined([_interval(part, variable) for part in parts], " or ")


def _interval(part: Interval, variable: str) -> Words:
    name = Name(variable)
    left, right = ("<=" if part.closed_lower else "<"), ("<=" if part.closed_upper else "<")
    low, high = not _unbounded(part.lower), not _unbounded(part.upper)
    if low and high:
        return (Maths(Inequality(Inequality(part.lower, left, name), right, part.upper)),)
    if low:
        return (Maths(Inequality(name, ">=" if part.closed_lower else ">", part.lower)),)
    return (Maths(Inequality(name, right, part.upper)),) if high else ("every real ", Maths(name))


def _unbounded(end: Node) -> bool:
    return isinstance(end.argument if isinstance(end, Negative) else end, Infinity)
