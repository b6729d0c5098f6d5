"""A contrast whose sides are worked by one method."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say, sentence
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="contrast-same-method",
    severity="error",
    title="No two methods to compare",
    meaning="A contrast sets different methods side by side. Here the same one is used twice, or only one is known.",
    mend="Take another problem, or name under `methods` what is to be compared.",
)


@dataclass(frozen=True, slots=True)
class SameMethod:
    """`method` as a title of the catalogue; `problem` as the file names it."""

    code: ClassVar[str] = KIND.code
    span: Span
    problem: str
    method: str


def diagnose(fact: SameMethod) -> Diagnostic:
    said = sentence("`{problem}` adds no other method: it is worked by {method} as well.")
    return KIND.at(fact.span, say(said, problem=fact.problem, method=Message(fact.method)))
