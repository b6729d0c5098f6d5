"""A page that is named and is not there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

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


@dataclass(frozen=True, slots=True)
class PageUnknown:
    """`what` is meant: `problem`, `chapter`, `contrast`, `set` or `page`; `nearest` is the one that was probably meant, or empty."""

    code: ClassVar[str] = KIND.code
    span: Span
    what: str
    name: str
    nearest: str = ""


def diagnose(fact: PageUnknown) -> Diagnostic:
    mend = f"Did you mean `{fact.nearest}`?" if fact.nearest else ""
    return KIND.at(fact.span, f"This book has no {fact.what} `{fact.name}`.", help=mend)
