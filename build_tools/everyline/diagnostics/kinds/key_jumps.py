"""A key with a jump."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import figure, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-jumps",
    severity="warning",
    title="Key jumps",
    meaning=(
        "The derivative of the key is right wherever it exists, but the key jumps at a point where the integrand is "
        "continuous. Between limits on both sides of that point it would give a wrong value."
    ),
    mend="Use a form without the jump, or restrict the question with `domain` to one side of it.",
    wrong="question: \\int \\frac{1}{2+\\cos x} \\, dx",
    right="",
)


@dataclass(frozen=True, slots=True)
class JumpingKey:
    """`place` is the point; `between_limits` when the key is used across it, which makes it an error."""

    code: ClassVar[str] = KIND.code
    span: Span
    place: str
    variable: str = "x"
    between_limits: bool = False


def diagnose(fact: JumpingKey) -> Diagnostic:
    note = say("It jumps at {variable} = {place}, where the integrand is continuous.", variable=fact.variable, place=figure(fact.place))
    severity = "error" if fact.between_limits else "warning"
    return KIND.at(fact.span, say("This key is not continuous where it should be."), notes=(note,), severity=severity)
