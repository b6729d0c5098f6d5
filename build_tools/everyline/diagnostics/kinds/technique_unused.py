"""A technique that no problem of its chapter uses."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="technique-unused",
    severity="warning",
    title="Introduced and not practised",
    meaning="The chapter says that it introduces a technique, but no worked solution of its problems uses it.",
    mend="Add a problem that uses it, or take it out of `introduces`.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class UnusedTechnique:
    """`span` is that of the name in `introduces`."""

    code: ClassVar[str] = KIND.code
    span: Span
    technique: str


def diagnose(fact: UnusedTechnique) -> Diagnostic:
    return KIND.at(fact.span, say("No problem of this chapter uses `{technique}`.", technique=fact.technique))
