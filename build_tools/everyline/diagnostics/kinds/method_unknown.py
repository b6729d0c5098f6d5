"""A method that does not exist."""

from __future__ import annotations

from ...notation.message import say
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
    methods = say("The methods are: {names}.", names=", ".join(f"`{name}`" for name in fact.known))
    mend = say("Did you mean `{name}`?", name=fact.nearest) if fact.nearest else methods
    replacement = Replacement(fact.span, fact.nearest) if fact.nearest else None
    return KIND.at(fact.span, say("There is no method `{name}`.", name=fact.name), help=mend, replacement=replacement)
