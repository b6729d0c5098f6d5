"""A line of a `lines` block that lacks its formula."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import BadBlockLine
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="lines-malformed",
    severity="error",
    title="Line without a formula",
    meaning=(
        "A line of a worked solution names something (`let u = …`), begins with `=`, or is a formula; behind each `=` a formula must stand."
    ),
    mend="Complete the line, or put the words after a `;` as the reason.",
    wrong="let u = ; the inside",
    right="let u = x^2 + 1 ; the inside",
)


def diagnose(fact: BadBlockLine) -> Diagnostic:
    unnamed = say("`let` must be followed by a name, an `=` and a formula.")
    return KIND.at(fact.span, unnamed if fact.kind == "let" else say("After an `=` nothing follows."))
