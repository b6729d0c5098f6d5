"""A value that is not among those allowed."""

from __future__ import annotations

from ...notation.message import say, together
from ...source.faults import BadValue
from ..diagnostic import Diagnostic, Replacement
from ..kind import Kind

KIND = Kind(
    code="field-value",
    severity="error",
    title="Value not allowed",
    meaning="The field takes only certain values, and this is none of them.",
    mend="Write one of the values that are allowed.",
    wrong="level: hard",
    right="level: 3",
)


def diagnose(fact: BadValue) -> Diagnostic:
    mend = say("Allowed: {allowed}.", allowed=fact.allowed)
    if fact.nearest:
        mend = together((say("Did you mean `{name}`?", name=fact.nearest), mend))
    replacement = Replacement(fact.span, fact.nearest) if fact.nearest else None
    said = say("`{name}` cannot be `{value}`.", name=fact.name, value=fact.value)
    return KIND.at(fact.span, said, help=mend, replacement=replacement)
