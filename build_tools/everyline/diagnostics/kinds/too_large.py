"""A file over the limit."""

from __future__ import annotations

from ...notation.message import Message, say, sentence
from ...source.faults import TooLarge
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="too-large",
    severity="error",
    title="Too large",
    meaning=(
        "A file of a book is text that a person has written; there is a limit to its size, so that nobody can stop a build with a huge one."
    ),
    mend="Make it shorter; split it into several problems.",
    wrong="",
    right="",
)


#: What is too large.
_WHAT = {
    "file": sentence("This file is too large."),
    "front matter": sentence("This front matter is too large."),
    "book.yml": sentence("This `book.yml` is too large."),
    "line": sentence("This line is too large."),
}


def diagnose(fact: TooLarge) -> Diagnostic:
    unit = say("bytes") if fact.what == "file" else say("characters")
    size = say("over {limit}", limit=fact.limit) if fact.size == fact.limit + 1 else fact.size
    note = say("It has {size} {unit}; the limit is {limit}.", size=size, unit=unit, limit=fact.limit)
    return KIND.at(fact.span, Message(_WHAT[fact.what]), notes=(note,))
