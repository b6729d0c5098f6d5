"""A list where one value is wanted, or the like."""

from __future__ import annotations

from ...source.faults import WrongType
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="field-shape",
    severity="error",
    title="Wrong kind of value",
    meaning="A field that takes one value was given a list or a table, or the other way round.",
    mend="Write the value as in the example.",
    wrong="title:\n  - One\n  - Two",
    right="title: One and two",
)


def diagnose(fact: WrongType) -> Diagnostic:
    mend = f"Write it as: `{fact.name}: {fact.example}`." if fact.example else ""
    return KIND.at(fact.span, f"`{fact.name}` takes {fact.wanted}, and here is {fact.found}.", help=mend)
