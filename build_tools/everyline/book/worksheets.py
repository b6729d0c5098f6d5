"""The worksheets that a book brings ready-made: two for each chapter, one for each set."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

from ..notation import plain
from ..notation.message import Translate, fill, say
from .data import Book, Examined
from .interleave import mixed, spread, too_many
from .sets import beginning
from .sheets import Sheet, make_sheet

PER_SHEET = 8


@dataclass(frozen=True, slots=True)
class Worksheet:
    """A sheet with its name on its page, the stem of its files, and whether its key may be printed yet."""

    name: str
    file: str
    sheet: Sheet
    keyed: bool


def worksheets(book: Book, tell: Translate = str) -> tuple[Worksheet, ...]:
    """Every worksheet of a book that may be published as it is: what is withheld has no key here either. `tell` says what a sheet is
    called in the language of the book."""
    return (*_of_chapters(book, tell), *_of_sets(book, tell))


def _of_chapters(book: Book, tell: Translate) -> Iterator[Worksheet]:
    so_far: list[Examined] = []
    for number, chapter in enumerate(book.chapters, 1):
        here = [e for e in book.problems_of(chapter) if _printable(e)]
        so_far += here
        page = f"{chapter.folder}/index.md"
        if here:
            title = fill(say("{chapter}: practice", chapter=chapter.title), plain, tell)
            yield _made(book, tell("Practice"), f"{chapter.folder}-practice", title, page, _practice(here, number))
        review = _review(so_far, here, number)
        if review:
            title = fill(say("{chapter}: mixed", chapter=chapter.title), plain, tell)
            yield _made(book, tell("Mixed"), f"{chapter.folder}-mixed", title, page, review)


def _of_sets(book: Book, tell: Translate) -> Iterator[Worksheet]:
    sound = {e.problem.path for e in book.examined if _printable(e)}
    for made in (made for made in book.sets if sound.issuperset(made.problems)):
        yield _made(book, tell("This set"), f"set-{made.source.slug}", made.source.title, made.path, made.problems)


def _made(book: Book, name: str, file: str, title: str, page: str, paths: Sequence[str]) -> Worksheet:
    sheet = make_sheet(book, title, page, paths)
    keyed = all(book.by_path[path].withheld is None for path in paths)
    return Worksheet(name, f"sheets/{file.replace('/', '-')}", sheet, keyed)


def _practice(here: Sequence[Examined], number: int) -> list[str]:
    """Some of a chapter's problems, of every level as many as there is room for, in the order of the chapter."""
    picked = {e.problem.path for e in spread(here, lambda e: str(e.problem.level), PER_SHEET, Random(number))}
    return [e.problem.path for e in here if e.problem.path in picked]


def _review(so_far: Sequence[Examined], here: Sequence[Examined], number: int) -> list[str]:
    """Problems of this chapter and of those before it, half and half, mixed; nothing where no order would be."""
    random = Random(number)
    worked = [e for e in so_far if beginning(e)]
    fresh = spread([e for e in here if beginning(e)], beginning, PER_SHEET // 2, random)
    taken = {e.problem.path for e in fresh}
    old = [e for e in worked if e.problem.path not in taken]
    chosen = (*fresh, *spread(old, beginning, PER_SHEET - len(fresh), random))
    if len(chosen) < 2 or too_many([beginning(e) for e in chosen]):
        return []
    return [e.problem.path for e in mixed(chosen, beginning, random)]


def _printable(examined: Examined) -> bool:
    return examined.sound and examined.question is not None
