"""A page that is named and is not there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say, sentence
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="page-unknown",
    severity="error",
    title="Not in this book",
    meaning="A set, a lesson or the list of errata names a page that the book does not have.",
    mend="Write the page as its chapter and its file's name, such as `parts/by-the-tide`.",
    wrong="problems: [by-the-tide]",
    right="problems: [parts/by-the-tide]",
)
#: What is said of a page that is not there, for each kind of page.
_NONE = {
    "problem": sentence("This book has no problem `{name}`."),
    "chapter": sentence("This book has no chapter `{name}`."),
    "contrast": sentence("This book has no contrast `{name}`."),
    "set": sentence("This book has no set `{name}`."),
    "page": sentence("This book has no page `{name}`."),
}


@dataclass(frozen=True, slots=True)
class PageUnknown:
    """`what` is meant: `problem`, `chapter`, `contrast`, `set` or `page`; `nearest` is the one that was probably meant, or empty."""

    code: ClassVar[str] = KIND.code
    span: Span
    what: str
    name: str
    nearest: str = ""


def diagnose(fact: PageUnknown) -> Diagnostic:
    mend = say("Did you mean `{name}`?", name=fact.nearest) if fact.nearest else None
    return KIND.at(fact.span, say(_NONE[fact.what], name=fact.name), help=mend)
