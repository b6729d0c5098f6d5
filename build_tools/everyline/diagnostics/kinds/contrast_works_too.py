"""Look-alikes that do not need different methods."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say, sentence
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="contrast-works-too",
    severity="error",
    title="The tempting method works here too",
    meaning="Look-alikes are to show that the method of the first problem does not do for the others. Here it does: a solution was found.",
    mend="Choose another problem, or put first the one whose method does not carry over.",
)


@dataclass(frozen=True, slots=True)
class WorksToo:
    """`method` as a title of the catalogue solves `problem` as well."""

    code: ClassVar[str] = KIND.code
    span: Span
    problem: str
    method: str


def diagnose(fact: WorksToo) -> Diagnostic:
    said = sentence("{method}, the method of the first problem, solves `{problem}` too.")
    return KIND.at(fact.span, say(said, problem=fact.problem, method=Message(fact.method)))
