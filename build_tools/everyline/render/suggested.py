"""Suggested contrasts on a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from ..book.data import Book
from ..book.suggest import Suggestion
from ..notation import plain
from .solutions import method

_NOTHING = "Nothing to suggest: no two problems that look alike need different methods, but for those that the book already contrasts."


def as_text(found: Sequence[Suggestion], book: Book) -> str:
    """One suggestion under another: the problems with their questions and methods, then what they share."""
    questions = {e.problem.path: plain(e.question.node) for e in book.examined if e.question is not None}
    return "\n\n".join(_one(number, each, questions) for number, each in enumerate(found, 1)) or _NOTHING


def _one(number: int, each: Suggestion, questions: dict[str, str]) -> str:
    head = f"{number}. {each.kind.capitalize()}"
    first, second = (method(name) for name in each.methods)
    if not each.second:
        lines = [f"   {each.first.removesuffix('.md')}: {questions[each.first]}", f"   {first}, or {second}. {each.why}"]
    else:
        pages = ((each.first, first), (each.second, second))
        lines = [f"   {path.removesuffix('.md')}: {questions[path]}   ({name})" for path, name in pages]
        lines += [f"   {each.why}"] if each.why else []
    return "\n".join([head, *lines])
