"""Pages that were made before: taken back where everything that they are made of is the same."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from fractions import Fraction
from typing import Any

from ..book.data import Examined
from ..book.memory import Memory
from ..book.versions import code
from .page import Page

#: How many pages are taken from the memory and put there at once.
PART = 200


@dataclass(frozen=True, slots=True)
class Recipe:
    """How the page at `path` is made: `make(*made_of, *aside)`. It depends on `made_of` alone; what is `aside` only serves messages."""

    path: str
    make: Callable[..., Page]
    made_of: tuple[Any, ...]
    aside: tuple[Any, ...] = ()

    def page(self) -> Page:
        return self.make(*self.made_of, *self.aside)

    @property
    def name(self) -> str:
        """A digest of the code and of everything that the page is made of; empty where that cannot be told."""
        try:
            said = repr((code(), self.make.__qualname__, _said(self.made_of)))
        except TypeError:
            return ""
        return hashlib.sha256(said.encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Made:
    """A page, and how it was made."""

    recipe: Recipe
    page: Page


def pages(recipes: Sequence[Recipe], memory: Memory | None, before: Mapping[str, Made] | None = None) -> tuple[Made, ...]:
    """The recipes' pages, in order: those made `before` of the same things (by path), those that the memory has, and new ones."""
    old = before or {}
    ready = {each.path: old[each.path] for each in recipes if each.path in old and _same(old[each.path].recipe.made_of, each.made_of)}
    rest = [each for each in recipes if each.path not in ready]
    ready |= {each.path: Made(each, page) for each, page in zip(rest, _made_or_kept(rest, memory), strict=True)}
    return tuple(ready[each.path] for each in recipes)


def _same(old: Any, new: Any) -> bool:
    """Whether a page made of the one is certainly what the other would give: an examination that is not the same thing is another."""
    if isinstance(new, Examined):
        return old is new and not new.diagnostics  # a page that tells of faults shows lines of the file, too
    if old is new or type(old) is not type(new):
        return old is new
    if isinstance(new, tuple):
        return len(old) == len(new) and all(map(_same, old, new))
    if is_dataclass(new):
        return all(_same(getattr(old, each.name), getattr(new, each.name)) for each in fields(new))
    return bool(old == new)


def _made_or_kept(recipes: Sequence[Recipe], memory: Memory | None) -> Iterator[Page]:
    """The recipes' pages, in order; what is new is kept in the memory, a part at a time: the texts of a large book are not held twice."""
    if memory is None:
        yield from (recipe.page() for recipe in recipes)
        return
    for start in range(0, len(recipes), PART):
        yield from _part(recipes[start : start + PART], memory)


def _part(recipes: Sequence[Recipe], memory: Memory) -> list[Page]:
    names = [recipe.name for recipe in recipes]
    known = memory.store.get(name for name in names if name)
    fresh: dict[str, str] = {}
    made: list[Page] = []
    for name, recipe in zip(names, recipes, strict=True):
        page = _read(known[name]) if name in known else recipe.page()
        made.append(page)
        if name and name not in known:
            fresh[name] = json.dumps({field.name: getattr(page, field.name) for field in fields(page)}, ensure_ascii=False)
    if fresh:
        memory.store.put(fresh)
    return made


def _read(text: str) -> Page:
    said = json.loads(text)
    return Page(**{**said, "tags": tuple(said["tags"])})


def _said(value: Any) -> Any:
    """A value as plain data. An examination is told by its name; one without a name, or another kind of thing, raises TypeError."""
    match value:
        case None | bool() | int() | float() | str() | Fraction():
            return value
        case tuple():
            return tuple(map(_said, value))
        case Examined():
            if not value.name or value.withheld is not None:
                raise TypeError("an examination that may come out otherwise the next time")
            return value.name
    if is_dataclass(value) and not isinstance(value, type):
        return (type(value).__name__, *(_said(getattr(value, field.name)) for field in fields(value)))
    raise TypeError(type(value).__name__)
