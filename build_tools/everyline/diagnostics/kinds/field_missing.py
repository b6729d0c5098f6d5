"""A required field that is not there."""

from __future__ import annotations

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
    where = f"`{fact.within}`" if fact.within else "This file"
    return KIND.at(fact.span, f"{where} has no `{fact.name}`.", help=f"Add a line `{fact.name}: …`.")
