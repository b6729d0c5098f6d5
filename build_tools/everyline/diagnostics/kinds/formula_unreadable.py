"""A formula that cannot be read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="formula-unreadable",
    severity="error",
    title="Formula cannot be read",
    meaning="The text is not a formula in the notation of the book. The mark shows where reading failed.",
    mend="Write the formula as a textbook would set it; the page on notation has examples.",
    wrong="key: \\frac{x^2}{2 + C",
    right="key: \\frac{x^2}{2} + C",
)


@dataclass(frozen=True, slots=True)
class BadFormula:
    """`message` and `help` are the words of the notation; `field` is where the formula stands."""

    code: ClassVar[str] = KIND.code
    span: Span
    field: str
    message: Message
    help: Message | None = None


def diagnose(fact: BadFormula) -> Diagnostic:
    return KIND.at(fact.span, fact.message, help=fact.help)
