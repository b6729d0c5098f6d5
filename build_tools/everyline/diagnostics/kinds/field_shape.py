"""A list where one value is wanted, or the like."""

from __future__ import annotations

from ...notation.message import Message, say
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
    mend = say("Write it as: `{name}: {example}`.", name=fact.name, example=fact.example) if fact.example else None
    return KIND.at(
        fact.span,
        say("`{name}` takes {wanted}, and here is {found}.", name=fact.name, wanted=Message(fact.wanted), found=Message(fact.found)),
        help=mend,
    )
