"""A key of a value that is no value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-no-value",
    severity="error",
    title="Not a value",
    meaning="The key of an integral between limits, or of a limit, is a value. This one still depends on the variable, or has a constant "
    "of integration, which only an antiderivative has.",
    mend="Put the limits in, or take the limit, and leave + C out.",
    wrong="question: \\int_0^1 3x^2 \\, dx\nkey: x^3",
    right="question: \\int_0^1 3x^2 \\, dx\nkey: 1",
)


@dataclass(frozen=True, slots=True)
class NoValue:
    """`name` is the letter that should be gone: the variable or a constant of integration."""

    code: ClassVar[str] = KIND.code
    span: Span
    name: str


def diagnose(fact: NoValue) -> Diagnostic:
    return KIND.at(fact.span, say("The key still holds `{name}`, and a value has none.", name=fact.name))
