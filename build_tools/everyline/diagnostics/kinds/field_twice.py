"""A field given twice."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import DuplicateField
from ..diagnostic import Diagnostic, Label
from ..kind import Kind

KIND = Kind(
    code="field-twice",
    severity="error",
    title="Field given twice",
    meaning="The same field stands twice in the front matter. Only one of them could count, and nobody can tell which.",
    mend="Take one of the two lines out. Several keys are given as a list.",
    wrong="key: x + C\nkey: C + x",
    right="key: [x + C, C + x]",
)


def diagnose(fact: DuplicateField) -> Diagnostic:
    first = Label(fact.first, say("the first time"))
    return KIND.at(fact.span, say("The field `{name}` is given twice.", name=fact.name), more=(first,))
