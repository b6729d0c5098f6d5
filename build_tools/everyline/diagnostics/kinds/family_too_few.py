"""A family with too few questions that are worth asking."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say, sentence
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
    reasons: tuple[Message, ...] = ()


def diagnose(fact: TooFewInstances) -> Diagnostic:
    few = sentence("Only {made} of the {wanted} questions that a family needs could be made.")
    none = sentence("None of the {wanted} questions that a family needs could be made.")
    return KIND.at(fact.span, say(few if fact.made else none, made=fact.made, wanted=fact.wanted), notes=fact.reasons)
