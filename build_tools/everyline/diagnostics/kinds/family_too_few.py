"""A family with too few questions that are worth asking."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="family-too-few",
    severity="error",
    title="Too few questions in a family",
    meaning="A page deals new numbers from at least twelve different questions, each with its answer proved. Choices of numbers that make"
    " a part vanish, divide by zero, grow too large or need another method are left out, and too few remained.",
    mend="Give the letters more numbers, or a condition under `where` that keeps the bad ones out.",
)


@dataclass(frozen=True, slots=True)
class TooFewInstances:
    """`made` questions remained where `wanted` are needed; `reasons` say what was left out."""

    code: ClassVar[str] = KIND.code
    span: Span
    made: int
    wanted: int
    reasons: tuple[str, ...] = ()


def diagnose(fact: TooFewInstances) -> Diagnostic:
    count = f"Only {fact.made} of the {fact.wanted} questions" if fact.made else f"None of the {fact.wanted} questions"
    return KIND.at(fact.span, f"{count} that a family needs could be made.", notes=fact.reasons)
