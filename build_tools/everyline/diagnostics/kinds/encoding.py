"""A file that is not UTF-8."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import BadEncoding
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="encoding",
    severity="error",
    title="Not UTF-8",
    meaning="The file holds bytes that are not UTF-8, the one way of writing characters that everyline reads.",
    mend="Save the file as UTF-8: most editors ask for the encoding under “Save as”.",
    wrong="",
    right="",
)


def diagnose(fact: BadEncoding) -> Diagnostic:
    guess = say("It seems to be saved as {guess}.", guess=fact.guess) if fact.guess else None
    return KIND.at(fact.span, say("This file is not saved as UTF-8."), notes=(guess,))
