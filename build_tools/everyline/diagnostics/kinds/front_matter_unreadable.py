"""Front matter that YAML cannot read."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import BadYaml
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="front-matter-unreadable",
    severity="error",
    title="Unreadable front matter",
    meaning="The front matter is not well-formed YAML, so the field could not be read.",
    mend="Put the value in single quotes; if it goes over several lines, indent them all alike.",
    wrong="hints:\n  - Divide first.\n - Then add.",
    right="hints:\n  - Divide first.\n  - Then add.",
)


def diagnose(fact: BadYaml) -> Diagnostic:
    return KIND.at(
        fact.span,
        say("This field could not be read."),
        notes=(say("The reader of the front matter says: {problem}.", problem=fact.problem),),
    )
