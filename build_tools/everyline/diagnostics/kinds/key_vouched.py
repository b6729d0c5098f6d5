"""A key that a person answers for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-vouched",
    severity="notice",
    title="Key vouched for",
    meaning="The key could not be decided, and a person answers for it in the file. The page says so.",
    mend="Nothing has to be done.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class VouchedKey:
    """`name` and `reason` are those of the file."""

    code: ClassVar[str] = KIND.code
    span: Span
    name: str
    reason: str


def diagnose(fact: VouchedKey) -> Diagnostic:
    return KIND.at(
        fact.span,
        say("This key could not be decided; {name} answers for it.", name=fact.name),
        notes=(say("Reason given: {reason}", reason=fact.reason),),
    )
