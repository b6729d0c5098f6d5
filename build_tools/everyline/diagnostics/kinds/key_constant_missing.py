"""A key without + C."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic, Replacement
from ..kind import Kind

KIND = Kind(
    code="key-constant-missing",
    severity="warning",
    title="Constant missing",
    meaning=(
        "An indefinite integral has infinitely many answers, one for each constant. The key names one of them only. "
        "(The settings of the book say whether this is a warning or an error.)"
    ),
    mend="Add `+ C`.",
    wrong="key: x^2",
    right="key: x^2 + C",
)


@dataclass(frozen=True, slots=True)
class MissingConstant:
    """`is_error` as the conventions of the book say; `text` is the key as typed."""

    code: ClassVar[str] = KIND.code
    span: Span
    is_error: bool = False
    text: str = ""


def diagnose(fact: MissingConstant) -> Diagnostic:
    replacement = Replacement(fact.span, f"{fact.text} + C") if fact.text else None
    severity = "error" if fact.is_error else "warning"
    return KIND.at(fact.span, say("The constant of integration is missing."), severity=severity, replacement=replacement)
