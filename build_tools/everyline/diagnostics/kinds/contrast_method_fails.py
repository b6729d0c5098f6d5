"""A method of a contrast that does not lead to an answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="contrast-method-fails",
    severity="error",
    title="Method of a contrast does not work",
    meaning="A contrast shows a worked solution by each of its methods, and for this one no solution was found.",
    mend="Name another method under `methods`, or leave the field out.",
)


@dataclass(frozen=True, slots=True)
class MethodFails:
    """`method` as a title of the catalogue, or empty where the problem has no worked solution at all; `problem` as the file names it."""

    code: ClassVar[str] = KIND.code
    span: Span
    problem: str
    method: str = ""


def diagnose(fact: MethodFails) -> Diagnostic:
    if not fact.method:
        return KIND.at(fact.span, say("`{problem}` has no worked solution to set beside another.", problem=fact.problem))
    return KIND.at(fact.span, say("{method} does not solve `{problem}`.", method=Message(fact.method), problem=fact.problem))
