"""What is wrong with a hand-written solution, as a fact with its place."""

from __future__ import annotations

from ..diagnostics.from_notation import from_notation
from ..diagnostics.kind import Fact
from ..diagnostics.kinds.line_ends_elsewhere import EndsElsewhere
from ..diagnostics.kinds.line_undecided import UndecidedLine
from ..diagnostics.kinds.line_wrong import WrongLine
from ..kernel import Refuted, Undecided
from ..notation import NotationError, plain
from ..notation.question import Question
from ..source.problem import Block
from .hand import HandFault
from .words import undecided


def hand_fact(fault: HandFault, block: Block, question: Question) -> Fact:
    """The fact for the first line of a block that does not stand."""
    number = next((n for n, line in enumerate(block.lines, 1) if line.formula == fault.text), len(block.lines))
    why = fault.why
    if isinstance(why, NotationError):
        return from_notation(fault.text, why, "lines")
    if fault.ends:
        return EndsElsewhere(fault.text.span, fault.text.value)
    if isinstance(why, Refuted):
        witness = "" if why.witness is None else str(why.witness)
        before = block.lines[number - 2].formula if number > 1 else None
        return WrongLine(
            fault.text.span, number, before.value if before else plain(question.node), question.variable, witness, why.left, why.right,
            before_span=before.span if before else None,
        )  # fmt: skip
    return UndecidedLine(fault.text.span, number, undecided(why) if isinstance(why, Undecided) else why)
