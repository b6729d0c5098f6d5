"""An answer in u that was never put back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-leftover-name",
    severity="error",
    title="Substitution not undone",
    meaning="The key still holds the letter of a substitution. The question asks for an answer in its own variable.",
    mend="Put back what the letter stands for.",
    wrong="question: \\int 2x\\cos(x^2) \\, dx\nkey: \\sin u + C",
    right="question: \\int 2x\\cos(x^2) \\, dx\nkey: \\sin(x^2) + C",
)


@dataclass(frozen=True, slots=True)
class ResidualName:
    """`name` is the letter left over and `variable` the one of the question."""

    code: ClassVar[str] = KIND.code
    span: Span
    name: str
    variable: str


def diagnose(fact: ResidualName) -> Diagnostic:
    return KIND.at(
        fact.span,
        say("The key still holds `{name}`; the question is in `{variable}`.", name=fact.name, variable=fact.variable),
        help=say("Replace `{name}` by what it stands for, in terms of `{variable}`.", name=fact.name, variable=fact.variable),
    )
