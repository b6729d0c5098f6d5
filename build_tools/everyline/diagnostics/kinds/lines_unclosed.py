"""A `lines` block without an end."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import UnclosedBlock
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="lines-unclosed",
    severity="error",
    title="Block never ends",
    meaning="A fenced block is opened by three backticks and must be closed by three more.",
    mend="After the last line of the block write the same marks again on a line of their own.",
    wrong="```lines\n= x + C",
    right="```lines\n= x + C\n```",
)


def diagnose(fact: UnclosedBlock) -> Diagnostic:
    return KIND.at(
        fact.span,
        say("The block that begins here is never closed."),
        help=say("After its last line write a line `{fence}`.", fence=fact.fence),
    )
