"""A character that cannot be seen."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import OddCharacter
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="odd-character",
    severity="error",
    title="Unseen character",
    meaning=(
        "The file holds a character that cannot be seen (a control character, a separator or a change of direction); it"
        " often comes along when text is copied from a PDF."
    ),
    mend="Delete it: go to the place, delete the characters around it and type them again.",
    wrong="",
    right="",
)


def diagnose(fact: OddCharacter) -> Diagnostic:
    return KIND.at(fact.span, say("Here is a character that cannot be seen ({character}).", character=fact.character))
