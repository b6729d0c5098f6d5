"""A value that is not among those allowed."""

from __future__ import annotations

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
    mend = f"Did you mean `{fact.nearest}`? " if fact.nearest else ""
    replacement = Replacement(fact.span, fact.nearest) if fact.nearest else None
    said = f"`{fact.name}` cannot be `{fact.value}`."
    return KIND.at(fact.span, said, help=f"{mend}Allowed: {fact.allowed}.", replacement=replacement)
