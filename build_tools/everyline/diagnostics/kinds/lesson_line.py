"""A step of a lesson that does not say what it must."""

from __future__ import annotations

from ...notation.message import Message, say, sentence
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
#: Which page a step does not name, for each kind of step that has one.
_WHICH = {
    "problem": sentence("This step does not say which problem."),
    "contrast": sentence("This step does not say which contrast."),
    "set": sentence("This step does not say which set."),
}


def diagnose(fact: LessonLine) -> Diagnostic:
    if fact.kind == "target":
        return KIND.at(fact.span, Message(_WHICH[fact.step]), help=say("Write `{step} folder/name`.", step=fact.step))
    return KIND.at(fact.span, say("This line is not a field and its words."))
