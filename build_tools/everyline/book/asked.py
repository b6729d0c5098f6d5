"""What a class was asked: the problems of a sheet by version and number, from a chapter, files or a sheet's record."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from ..notation import plain
from ..notation.message import Message, say, sentence
from ..notation.question import Question
from ..source.paths import page_name, spelt_out
from ..source.problem import Conventions, Problem
from ..source.table import plain_name
from .data import Instance
from .examination import Job, pose
from .families import read_template
from .family import Template, instance

#: `3`, `A3`, `A/3`, `Q3`, `version B, no. 3.`
_VERSION_AND_NUMBER = re.compile(
    r"(?:version\s*)?([A-Za-z])?[\s/.,:_-]*(?:question|problem|number|no|nr|q|#)?[\s.]*(\d{1,3})[.):]?", re.IGNORECASE
)

_NO_VERSION = sentence("the row does not say which version it answers")
#: Families (by path) as their pages ask them.
Deal = Callable[[Sequence[str]], Mapping[str, Problem]]
#: No number in a question is near this (see `family`): a larger one in a record did not come from us.
MAX_NUMBER = 10_000


@dataclass(frozen=True, slots=True)
class Item:
    """One problem as it was asked. `number` counts from 1 within its version; `question` is None where the file's own is at fault."""

    version: str
    number: int
    path: str
    title: str
    question: Question | None
    key: str

    @property
    def label(self) -> str:
        return f"{self.version}{self.number}"


@dataclass(frozen=True, slots=True)
class Asked:
    """A sheet: its items in order of version and number, and the conventions that its formulas are written in."""

    items: tuple[Item, ...]
    conventions: Conventions

    @property
    def versions(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(item.version for item in self.items))

    def find(self, problem: str, version: str, number: str) -> Item | Message:
        """The item that a row is about, or why there is none. `problem` may also be a path, a file's name, a title or a number."""
        problem, version, number = problem.strip(), version.strip(), number.strip()
        for written in (number, problem):
            said = _VERSION_AND_NUMBER.fullmatch(written)
            if said is not None:
                return self._numbered(version or said[1] or "", int(said[2]))
        if number:
            return say("“{number}” is not the number of a problem", number=_cut(number))
        return self._called(problem, version) if problem else say("the row does not say which problem it answers")

    def _numbered(self, version: str, number: int) -> Item | Message:
        named = self._version(version)
        if named is None:
            return say("there is no version “{version}”", version=_cut(version)) if version else say(_NO_VERSION)
        found = next((item for item in self.items if item.version == named and item.number == number), None)
        if found is not None:
            return found
        return say(
            "version {version} has no problem {number}" if named else "the sheet has no problem {number}", version=named, number=number
        )

    def _version(self, version: str) -> str | None:
        """A version by its name; left out, the only one."""
        wanted = re.sub(r"^version", "", plain_name(version))
        if not wanted or self.versions == ("",):
            return self.versions[0] if len(self.versions) == 1 else None
        return next((each for each in self.versions if plain_name(each) == wanted), None)

    def _called(self, problem: str, version: str) -> Item | Message:
        wanted = plain_name(problem.removesuffix(".md"))
        named = self._version(version) if version else None
        found = [item for item in self.items if wanted in _names(item) and (named is None or item.version == named)]
        if len({item.path for item in found}) > 1:
            return say("“{name}” is the name of several problems", name=_cut(problem))
        if len({(item.question, item.key) for item in found}) > 1:
            return say(_NO_VERSION)
        return found[0] if found else say("“{name}” is not on the sheet", name=_cut(problem))


def _names(item: Item) -> set[str]:
    stem = item.path.removesuffix(".md")
    return {plain_name(name) for name in (stem, page_name(stem), item.title)}


def _cut(text: str) -> str:
    return text if len(text) <= 40 else text[:39] + "…"


def asked(problems: Sequence[Problem], conventions: Conventions, deal: Deal) -> Asked:
    """A sheet of one version: the problems numbered in their order, a family as its page asks it."""
    dealt = deal([problem.path for problem in problems if problem.vary is not None])
    items = (_item("", n, dealt.get(problem.path, problem), conventions) for n, problem in enumerate(problems, 1))
    return Asked(tuple(items), conventions)


def from_record(record: bytes, problems: Mapping[str, Problem], conventions: Conventions, deal: Deal) -> Asked:
    """A sheet from the record that `everyline sheet` writes beside its PDF: `{version: [[path, numbers of the family or null], …]}`.

    A family without numbers was asked as its page asks it.

    Raises:
        ValueError: it is not such a record, or names a problem that the book does not have.
    """
    try:
        said = json.loads(record)
    except (ValueError, RecursionError):
        said = None
    if not isinstance(said, dict) or not all(isinstance(entries, list) for entries in said.values()):
        raise ValueError("this is not the record of a sheet")
    entries = [(version, n, *_entry(version, n, each, problems)) for version, listed in said.items() for n, each in enumerate(listed, 1)]
    if not entries:
        raise ValueError("the record names no problem")
    dealt = deal(list(dict.fromkeys(problem.path for _, _, problem, values in entries if problem.vary is not None and not values)))
    items = (
        _numbered_item(version, n, problem, values, conventions)
        if values
        else _item(version, n, dealt.get(problem.path, problem), conventions)
        for version, n, problem, values in entries
    )
    return Asked(tuple(items), conventions)


def _entry(version: str, number: int, entry: object, problems: Mapping[str, Problem]) -> tuple[Problem, object]:
    path, values = (entry[0], entry[1]) if isinstance(entry, list) and len(entry) == 2 else (entry, None)
    if not isinstance(path, str) or path not in problems:
        raise ValueError(f"problem {number} of version {version or '1'} is not in the book: {_cut(str(path))}")
    return problems[path], values


def _numbered_item(version: str, number: int, problem: Problem, values: object, conventions: Conventions) -> Item:
    """A family asked with these numbers.

    Raises:
        ValueError: it is no family, or none of its instances has them.
    """
    made = None
    if problem.vary is not None and isinstance(values, dict) and set(values) == {letter.name for letter in problem.vary.letters}:
        whole = all(isinstance(value, int) and not isinstance(value, bool) and abs(value) <= MAX_NUMBER for value in values.values())
        template = read_template(Job(problem, conventions)) if whole else ()
        made = instance(template, values) if isinstance(template, Template) else None
    if not isinstance(made, Instance):
        why = "has no instance with the numbers of the record: has the file been changed since the sheet was printed?"
        raise ValueError(f"{problem.path} {why}")
    key = made.keys[0].tree
    return Item(version, number, problem.path, _title(problem), made.question, "" if key is None else plain(key))


def _item(version: str, number: int, problem: Problem, conventions: Conventions) -> Item:
    posed = pose(problem, conventions)
    question = None if isinstance(posed, tuple) else posed
    return Item(version, number, problem.path, _title(problem), question, problem.keys[0].value)


def _title(problem: Problem) -> str:
    return problem.title.value if problem.title else spelt_out(problem.slug)


def chosen(problems: Sequence[Problem], paths: Sequence[str]) -> tuple[Problem, ...]:
    """The problems that the paths (relative to the content folder) name: files one by one in the order given, folders in page order.

    Raises:
        ValueError: a path that names none.
    """
    known = {problem.path: problem for problem in problems}
    found: list[Problem] = []
    for path in paths:
        inside = [known[path]] if path in known else [problem for problem in problems if problem.path.startswith(path.rstrip("/") + "/")]
        if not inside:
            raise ValueError(f"{path} is no problem and no chapter of this book")
        found += inside
    return tuple(dict.fromkeys(found))
