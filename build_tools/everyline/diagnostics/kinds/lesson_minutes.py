"""A lesson whose steps do not add up."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="lesson-minutes",
    severity="warning",
    title="Minutes that do not add up",
    meaning="The minutes of a lesson's steps add up to something other than the minutes of the lesson.",
    mend="Change the minutes of a step, or those of the lesson.",
    wrong="minutes: 50",
    right="minutes: 45",
)


@dataclass(frozen=True, slots=True)
class LessonMinutes:
    """`said` is what the lesson says and `steps` what its steps add up to."""

    code: ClassVar[str] = KIND.code
    span: Span
    said: int
    steps: int


def diagnose(fact: LessonMinutes) -> Diagnostic:
    return KIND.at(fact.span, say("The lesson takes {said} minutes, and its steps add up to {steps}.", said=fact.said, steps=fact.steps))
