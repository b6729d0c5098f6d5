"""A `lines` block without lines."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import EmptyBlock
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="lines-empty",
    severity="error",
    title="Empty block",
    meaning="A `lines` block holds a worked solution, one formula a line; this one holds nothing.",
    mend="Write the solution into it, or take the block out.",
    wrong="```lines\n```",
    right="```lines\n= x + C\n```",
)


def diagnose(fact: EmptyBlock) -> Diagnostic:
    return KIND.at(fact.span, say("This block holds no lines."))
