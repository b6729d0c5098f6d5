"""A step of a lesson that does not say what it must."""

from __future__ import annotations

from ...source.faults import LessonLine
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="lesson-line",
    severity="error",
    title="Unreadable step",
    meaning="A step of a lesson names its page after its kind, and each line inside it is a field: `minutes`, `predict` or `say`.",
    mend="Write each line as `minutes: 8`, `predict: words` or `say: words`.",
    wrong="```problem\nask them first\n```",
    right="```problem parts/by-the-tide\npredict: What will you call u?\n```",
)


def diagnose(fact: LessonLine) -> Diagnostic:
    if fact.kind == "target":
        return KIND.at(fact.span, f"This step does not say which {fact.step}.", help=f"Write `{fact.step} folder/name`.")
    return KIND.at(fact.span, "This line is not a field and its words.")
