"""A method that does not exist."""

from __future__ import annotations

from ...source.faults import UnknownMethod
from ..diagnostic import Diagnostic, Replacement
from ..kind import Kind

KIND = Kind(
    code="method-unknown",
    severity="error",
    title="Unknown method",
    meaning="A file names a method (in `methods`, `needs` or `introduces`) that everyline does not have.",
    mend="Write the name of a method as `everyline` knows it.",
    wrong="methods: [substitutoin]",
    right="methods: [substitution]",
)


def diagnose(fact: UnknownMethod) -> Diagnostic:
    mend = f"Did you mean `{fact.nearest}`?" if fact.nearest else f"The methods are: {', '.join(fact.known)}."
    replacement = Replacement(fact.span, fact.nearest) if fact.nearest else None
    return KIND.at(fact.span, f"There is no method `{fact.name}`.", help=mend, replacement=replacement)
