"""A step of a lesson whose name is misspelt."""

from __future__ import annotations

from ...notation.message import say
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
    mend = say("Did you mean `{name}`?", name=fact.nearest) if fact.nearest else None
    return KIND.at(fact.span, say("There is no step `{name}`.", name=fact.name), help=mend)
