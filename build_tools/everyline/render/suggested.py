"""Suggested contrasts on a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from ..book.data import Book
from ..book.suggest import Suggestion
from ..language import Tell
from ..notation import plain
from ..notation.message import sentence
from .solutions import method

_NOTHING = sentence(
    "Nothing to suggest: no two problems that look alike need different methods, but for those that the book already contrasts."
)
_KINDS = {"look-alikes": sentence("Look-alikes"), "two methods": sentence("Two methods")}


def as_text(found: Sequence[Suggestion], book: Book, tell: Tell) -> str:
    """One suggestion under another: the problems with their questions and methods, then what they share."""
    questions = {e.problem.path: plain(e.question.node) for e in book.examined if e.question is not None}
    return "\n\n".join(_one(number, each, questions, tell) for number, each in enumerate(found, 1)) or tell(_NOTHING)


def _one(number: int, each: Suggestion, questions: dict[str, str], tell: Tell) -> str:
    head = f"{number}. {tell(_KINDS[each.kind])}"
    first, second = (method(name, tell) for name in each.methods)
    why = each.said(tell)
    if not each.second:
        methods = tell("{first}, or {second}.", first=first, second=second)
        lines = [f"   {each.first.removesuffix('.md')}: {questions[each.first]}", f"   {methods} {why}"]
    else:
        pages = ((each.first, first), (each.second, second))
        lines = [f"   {path.removesuffix('.md')}: {questions[path]}   ({name})" for path, name in pages]
        lines += [f"   {why}"] if why else []
    return "\n".join([head, *lines])
