"""A field without a value."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import EmptyField
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="field-empty",
    severity="error",
    title="Empty field",
    meaning="A field is there but nothing stands after its colon (or an item of a list is empty).",
    mend="Write the value after the colon, or take the line out.",
    wrong="key:",
    right="key: \\frac{x^2}{2} + C",
)


def diagnose(fact: EmptyField) -> Diagnostic:
    return KIND.at(fact.span, say("The field `{name}` says nothing.", name=fact.name))
