"""A field that does not exist."""

from __future__ import annotations

from ...source.faults import UnknownField
from ..diagnostic import Diagnostic, Replacement
from ..kind import Kind

KIND = Kind(
    code="field-unknown",
    severity="error",
    title="Unknown field",
    meaning="The front matter has a field that everyline does not know. It would be ignored, so a misspelt name would lose what it says.",
    mend="Write the name as it is in the list of fields, or take the line out.",
    wrong="levl: 2",
    right="level: 2",
)


def diagnose(fact: UnknownField) -> Diagnostic:
    where = f" inside `{fact.within}`" if fact.within else ""
    mend = f"Did you mean `{fact.nearest}`?" if fact.nearest else f"The fields are: {', '.join(fact.known)}."
    replacement = Replacement(fact.span, fact.nearest) if fact.nearest else None
    return KIND.at(fact.span, f"There is no field `{fact.name}`{where}.", help=mend, replacement=replacement)
