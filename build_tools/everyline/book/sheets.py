"""A printed sheet: which questions each version has, in which order and with which numbers, and the key of each."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from ..derive.route import Line, Route
from ..notation.question import Question
from ..notation.tree import Node
from .assembly import taught
from .data import Book, Examined, KeyVerdict
from .examination import Job, examine
from .interleave import mixed
from .sets import beginning


class NoSheet(ValueError):
    """There is no sheet of what was asked for; the text says why."""


@dataclass(frozen=True, slots=True)
class Item:
    """One question of a version. `keys` are right, each of them proved or answered for; `values` are the numbers of a family."""

    path: str
    question: Question
    keys: tuple[KeyVerdict, ...]
    level: int
    routes: tuple[Route, ...] = ()
    hand: tuple[tuple[Line, ...], ...] = ()
    values: tuple[tuple[str, int], ...] = ()

    @property
    def answers(self) -> tuple[Node, ...]:
        return tuple(verdict.tree for verdict in self.keys if verdict.tree is not None)


@dataclass(frozen=True, slots=True)
class Version:
    """One version of a sheet. `label` is `A`, `B`, … or empty when there is only one."""

    label: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of one or several versions. `path` is the page of the book that it belongs to (empty: none)."""

    title: str
    path: str
    versions: tuple[Version, ...]


def make_sheet(
    book: Book, title: str, path: str, paths: Sequence[str], labels: Sequence[str] = ("",), seed: int = 1, *, worked: bool = True
) -> Sheet:
    """A sheet of some problems. The first version has the order and the numbers of the book; the others differ in both.

    A mixed set stays mixed: in no version do two neighbours begin alike. `worked` False leaves out the worked solutions of a family's
    other numbers, which have to be found anew.

    Raises:
        NoSheet: a problem is not in the book or has an answer that does not stand.
    """
    known = book.by_path
    chosen = [known[name] for name in paths if name in known]
    if len(chosen) < len(paths):
        raise NoSheet(f"{next(name for name in paths if name not in known)} is not in the book")
    for examined in chosen:
        right = examined.question is not None and examined.sound and (examined.keys or examined.withheld is not None)
        if not right or not all(verdict.right for verdict in examined.keys):
            raise NoSheet(f"{examined.problem.path} needs mending first: run `everyline check`")
    in_mixed = any(made.path == path and made.mixed for made in book.sets)
    versions = (
        Version(label, tuple(_item(e, number, book, worked) for e in _order(chosen, f"{seed}-{label}", number, in_mixed)))
        for number, label in enumerate(labels)
    )
    return Sheet(title, path, tuple(versions))


def _order(chosen: Sequence[Examined], seed: str, number: int, in_mixed: bool) -> Sequence[Examined]:
    if not number:
        return chosen
    if in_mixed:
        return mixed(chosen, beginning, Random(seed))
    return Random(seed).sample(chosen, len(chosen))


def _item(examined: Examined, number: int, book: Book, worked: bool) -> Item:
    """A problem as a version asks it: of a family, each version has the next of its instances, the nicest first."""
    family = examined.family
    if family is None or not family.instances:
        return as_asked(examined, ())
    made = family.instances[number % len(family.instances)]
    if made.problem == examined.problem:
        return as_asked(examined, made.values)
    if not worked:
        return Item(examined.problem.path, made.question, made.keys, examined.problem.level, values=made.values)
    again = examine(Job(replace(made.problem, vary=None), book.conventions, taught(book.chapters, made.problem.chapter)))
    if not again.sound or not all(verdict.right for verdict in again.keys):
        raise NoSheet(f"{examined.problem.path} could not be worked out with other numbers")
    return as_asked(again, made.values)


def as_asked(examined: Examined, values: tuple[tuple[str, int], ...] = ()) -> Item:
    """A problem that has a question, as its page asks it."""
    assert examined.question is not None
    routes = () if examined.derivation is None else examined.derivation.routes
    hand = tuple(solution.lines for solution in examined.hand)
    return Item(examined.problem.path, examined.question, examined.keys, examined.problem.level, routes, hand, values)


def record(sheet: Sheet) -> str:
    """Which question stands where, for whoever marks the answers: `{version: [[path, numbers of the family or null], …]}` as JSON."""
    made = {version.label: [[item.path, dict(item.values) or None] for item in version.items] for version in sheet.versions}
    return json.dumps(made, indent=1) + "\n"


def asked_for(name: str) -> str:
    """What a name on the command line means in the book: `content/powers/index.md` is `powers`."""
    return name.removeprefix("content/").strip("/").removesuffix(".md").removesuffix("/index")


def selection(book: Book, names: Sequence[str]) -> tuple[str, str, tuple[str, ...]]:
    """Title, page and problems of what is named: a set, a chapter, or problems (as `chapter/slug`), in this order of preference.

    Raises:
        NoSheet: a name means nothing in this book.
    """
    plain = [asked_for(name) for name in names]
    if len(plain) == 1:
        for made in book.sets:
            if plain[0] in (made.source.slug, f"sets/{made.source.slug}"):
                return made.source.title, made.path, made.problems
        for chapter in book.chapters:
            if plain[0] == chapter.folder:
                return chapter.title, f"{chapter.folder}/index.md", tuple(e.problem.path for e in book.problems_of(chapter))
    known = {e.problem.path.removesuffix(".md") for e in book.examined}
    alone = {made.source.slug for made in book.sets} | {chapter.folder for chapter in book.chapters}
    for name in plain:
        if name.removeprefix("sets/") in alone:
            raise NoSheet(f"{name} is a set or a chapter, which has a sheet of its own; name it alone, or name problems")
        if name not in known:
            raise NoSheet(f"this book has no set, chapter or problem {name!r}")
    return "Practice", "", tuple(f"{name}.md" for name in plain)
