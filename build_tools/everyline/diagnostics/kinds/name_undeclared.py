"""A letter that nobody has introduced."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="name-undeclared",
    severity="error",
    title="Unknown letter",
    meaning="A formula uses a letter that is neither the variable nor a declared parameter. It is never taken for a product of letters.",
    mend="If it is a parameter, declare it in `given`; if it is two letters multiplied, put a `\\cdot` between them.",
    wrong="question: \\int ax \\, dx",
    right="question: \\int ax \\, dx\ngiven: a > 0",
)


@dataclass(frozen=True, slots=True)
class UndeclaredName:
    """`message` and `help` are the words of the notation; `field` is where the formula stands."""

    code: ClassVar[str] = KIND.code
    span: Span
    field: str
    message: Message
    help: Message | None = None


def diagnose(fact: UndeclaredName) -> Diagnostic:
    return KIND.at(fact.span, fact.message, help=fact.help)
