"""A block whose name is almost `lines`."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import UnknownBlock
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="lines-misspelt",
    severity="error",
    title="Misspelt block",
    meaning="Only a block that is named `lines` is read as a worked solution and checked. This one would be shown unchecked.",
    mend="Write the name as `lines`.",
    wrong="```line\n= x + C\n```",
    right="```lines\n= x + C\n```",
)


def diagnose(fact: UnknownBlock) -> Diagnostic:
    return KIND.at(
        fact.span,
        say("A block named `{name}` would not be checked.", name=fact.name),
        help=say("If it is a worked solution, name it `lines`."),
    )
