"""A field that does not exist."""

from __future__ import annotations

from ...notation.message import say
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
    fields = say("The fields are: {names}.", names=", ".join(f"`{name}`" for name in fact.known))
    mend = say("Did you mean `{name}`?", name=fact.nearest) if fact.nearest else fields
    inside = say("There is no field `{name}` inside `{within}`.", name=fact.name, within=fact.within)
    said = inside if fact.within else say("There is no field `{name}`.", name=fact.name)
    replacement = Replacement(fact.span, fact.nearest) if fact.nearest else None
    return KIND.at(fact.span, said, help=mend, replacement=replacement)
