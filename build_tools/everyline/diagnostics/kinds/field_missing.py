"""A required field that is not there."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import MissingField
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="field-missing",
    severity="error",
    title="Missing field",
    meaning="A field that every file of this kind needs is not there.",
    mend="Add the field.",
    wrong="---\nquestion: \\int x \\, dx\n---",
    right="---\nquestion: \\int x \\, dx\nkey: \\frac{x^2}{2} + C\n---",
)


def diagnose(fact: MissingField) -> Diagnostic:
    whole = say("This file has no `{name}`.", name=fact.name)
    said = say("`{within}` has no `{name}`.", within=fact.within, name=fact.name) if fact.within else whole
    return KIND.at(fact.span, said, help=say("Add a line `{name}: …`.", name=fact.name))
