"""A fault of everyline itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say, verbatim
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="internal",
    severity="error",
    title="Fault in everyline",
    meaning="Something went wrong inside everyline. The file may be right or wrong; it has not been decided.",
    mend="Report it, with the file and the line below; the rest of the book has been checked.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class Internal:
    """`detail` is one line that says what failed."""

    code: ClassVar[str] = KIND.code
    span: Span
    detail: str


def diagnose(fact: Internal) -> Diagnostic:
    return KIND.at(
        fact.span, say("everyline failed on this file. That is a fault of the program, not of the file."), notes=(verbatim(fact.detail),)
    )
