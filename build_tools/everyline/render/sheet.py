"""A sheet as a document: its versions, then their keys."""

from __future__ import annotations

from collections.abc import Sequence

from ..book.data import Book, KeyVerdict, Vouched
from ..book.sheets import Item, Sheet, Version
from ..book.words import agreeing
from ..derive.route import Line
from ..kernel import Checked
from ..language import translator
from ..notation import plain
from ..notation.build import as_inequality, intervals
from ..notation.message import Translate, fill, sentence
from ..notation.question import Question as Asked
from ..notation.tree import Interval, Name, Region
from .addresses import Addresses
from .errata import edition
from .markup import bare
from .paper.model import Block, Document, Key, Maths, Question, Title, Words, WorkedLine, Working, filled, words_of
from .problem_page import ASKS
from .solutions import Unchecked, method

#: Room below a question in millimetres, by its level.
ROOM = {1: 32, 2: 50, 3: 72}
KEYS = ("none", "short", "full")
AUTHORS_OWN = sentence("As the author writes it")


def document(sheet: Sheet, book: Book, *, key: str = "none", room: int | None = None, addresses: Addresses | None = None) -> Document:
    """The sheet with its keys behind: `none`, `short` (answers) or `full` (worked solutions too).

    `room` is what is left free below every question, in millimetres; None: as much as its level wants. `addresses` is how the site
    writes the address that is printed.
    """
    tell = translator(book.conventions.language)
    blocks = [block for version in sheet.versions for block in _questions(version, sheet, room, tell)]
    return _document(sheet, book, tuple(blocks) + (key_blocks(sheet, key, tell) if key != "none" else ()), addresses or Addresses())


def key_document(sheet: Sheet, book: Book, *, key: str = "short", addresses: Addresses | None = None) -> Document:
    """The keys alone, each question with its answer."""
    blocks = key_blocks(sheet, key, translator(book.conventions.language), questions=True)
    return _document(sheet, book, blocks, addresses or Addresses())


def _document(sheet: Sheet, book: Book, blocks: tuple[Block, ...], addresses: Addresses) -> Document:
    said = (book.conventions.title, edition(book), book.conventions.license)
    address = addresses.whole(sheet.path, book.conventions.address)
    return Document(bare(sheet.title), blocks, " · ".join(filter(None, said)), address, book.conventions.language)


def _questions(version: Version, sheet: Sheet, room: int | None, tell: Translate) -> list[Block]:
    kinds = {item.question.kind for item in version.items}
    task = f"{tell(ASKS[kinds.pop()])}." if len(kinds) == 1 else tell("Work out each of these.")
    below = f"{tell('Version {version}.').format(version=version.label)} {task}" if version.label else task
    made: list[Block] = [Title(bare(sheet.title), (below,), signed=True)]
    for number, item in enumerate(version.items, 1):
        space = ROOM[item.level] if room is None else room
        made.append(Question(number, item.question.node, conditions(item.question, tell), space))
    return made


def key_blocks(sheet: Sheet, key: str, tell: Translate, *, questions: bool = False) -> tuple[Block, ...]:
    """The keys of every version, each on a page of its own."""
    made: list[Block] = []
    for version in sheet.versions:
        label = tell("{title}: key to version {version}" if version.label else "{title}: key")
        made.append(Title(label.format(title=bare(sheet.title), version=version.label)))
        for number, item in enumerate(version.items, 1):
            made += answer(item, number, key, tell, questions=questions)
    return tuple(made)


def answer(item: Item, number: int, key: str, tell: Translate, *, questions: bool = True) -> list[Block]:
    """One question's answers, and with the key `full` its worked solutions: the author's own first, then the preferred one."""
    questions = questions or key == "full"
    made: list[Block] = [Key(number, item.answers, _notes(item.keys, tell), item.question.node if questions else None)]
    if key == "full":
        made += [working(tell(AUTHORS_OWN), lines, tell) for lines in item.hand]
        made += [working(method(route.method, tell), route.lines, tell) for route in item.routes[: 1 if item.hand else 2]]
    return made


def _notes(keys: Sequence[KeyVerdict], tell: Translate) -> Words:
    """What a teacher must know of a key that is not simply proved."""
    for verdict in keys:
        if isinstance(verdict.outcome, Vouched):
            return (tell("{name} answers for this").format(name=verdict.outcome.name),)
        if isinstance(verdict.outcome, Checked) and verdict.outcome.grade != "proved":
            return (fill(agreeing(verdict.outcome), plain, tell),)
    return ()


def working(title: str, lines: Sequence[Line], tell: Translate) -> Working:
    """A worked solution.

    Raises:
        Unchecked: a line that nothing vouches for. Paper, too, has checked lines only.
    """
    rows = []
    for line in lines:
        if line.kind == "equal" and line.checked is None:
            raise Unchecked(title)
        rows.append(WorkedLine(line.shown, line.left, words_of(line.reason, tell), line.forms))
    return Working(title, None, tuple(rows))


def conditions(question: Asked, tell: Translate) -> Words:
    """Where a question is asked and what is assumed of its letters; empty when there is nothing to say."""
    made: list[Words] = []
    if question.domain is not None:
        made.append(filled(tell("for {region}"), region=_region(question.domain, question.variable, tell)))
    letters: list[Words] = [(Maths(condition),) for condition in question.given.conditions]
    for parameter in question.given.in_words:
        said = tell("{name} a whole number" if parameter.integer else "{name} a constant")
        letters.append(filled(said, name=(Maths(Name(parameter.name)),)))
    if letters:
        made.append(filled(tell("where {letters}"), letters=_joined(letters, ", ")))
    return _joined(made, ", ")


def _joined(parts: Sequence[Words], between: str) -> Words:
    return tuple(piece for number, part in enumerate(parts) for piece in ((between, *part) if number else part))


def _region(domain: Region, variable: str, tell: Translate) -> Words:
    return _joined([_interval(part, variable, tell) for part in intervals(domain)], f" {tell('or')} ")


def _interval(part: Interval, variable: str, tell: Translate) -> Words:
    said = as_inequality(part, variable)
    return filled(tell("every real {name}"), name=(Maths(Name(variable)),)) if said is None else (Maths(said),)
