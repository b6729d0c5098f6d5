"""A step of a lesson whose name is misspelt."""

from __future__ import annotations

from ...source.faults import UnknownStep
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="lesson-step",
    severity="error",
    title="Misspelt step",
    meaning="A fenced block of a lesson is almost called `problem`, `contrast`, `set` or `talk`. As it is, everyone would see its words, "
    "those for the teacher too.",
    mend="Write the name of the step in small letters: `problem`, `contrast`, `set` or `talk`.",
    wrong="```problm parts/by-the-tide",
    right="```problem parts/by-the-tide",
)


def diagnose(fact: UnknownStep) -> Diagnostic:
    mend = f"Did you mean `{fact.nearest}`?" if fact.nearest else ""
    return KIND.at(fact.span, f"There is no step `{fact.name}`.", help=mend)
