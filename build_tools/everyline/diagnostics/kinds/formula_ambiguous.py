"""A formula with more than one reading."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, either, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="formula-ambiguous",
    severity="error",
    title="Formula with two readings",
    meaning="The formula can be understood in more than one way, and a guess could be wrong without anybody noticing.",
    mend="Write it so that it can be read in one way only: as a fraction, or with brackets.",
    wrong="key: 1/2x + C",
    right="key: \\frac{1}{2}x + C",
)


@dataclass(frozen=True, slots=True)
class AmbiguousFormula:
    """`readings` are the ways to write each meaning so that nothing else can be meant."""

    code: ClassVar[str] = KIND.code
    span: Span
    field: str
    message: Message
    readings: tuple[str, ...]
    help: Message | None = None


def diagnose(fact: AmbiguousFormula) -> Diagnostic:
    ways = [f"`{reading}`" for reading in fact.readings]
    return KIND.at(fact.span, fact.message, help=say("Write {ways}.", ways=either(ways)) if ways else fact.help)
