"""A line of a hand-written solution that does not follow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...source.span import Span
from ..diagnostic import Diagnostic, Label
from ..kind import Kind

KIND = Kind(
    code="line-wrong",
    severity="error",
    title="Line does not follow",
    meaning=(
        "Every line of a hand-written solution is checked against the one before. This is the first that does not "
        "follow; the lines after it were not looked at."
    ),
    mend="Work this line again from the one before it.",
    wrong="```lines\n= \\int (x + 1) \\, dx\n= x^2 + x + C\n```",
    right="```lines\n= \\int (x + 1) \\, dx\n= \\frac{x^2}{2} + x + C\n```",
)


@dataclass(frozen=True, slots=True)
class WrongLine:
    """The first wrong line; `number` counts from 1.

    `before` is the line before as text, and `before_span` its place; at `witness` the two lines give `wanted_there` and `got_there`
    (for an antiderivative: their derivatives). `slip` is a sentence that explains the mistake.
    """

    code: ClassVar[str] = KIND.code
    span: Span
    number: int
    before: str = ""
    variable: str = "x"
    witness: str = ""
    wanted_there: str = ""
    got_there: str = ""
    slip: str = ""
    before_span: Span | None = None


def diagnose(fact: WrongLine) -> Diagnostic:
    values = f": the line before gives {fact.wanted_there}, this one {fact.got_there}" if fact.wanted_there and fact.got_there else ""
    point = f"Wrong at {fact.variable} = {fact.witness}{values}." if fact.witness else ""
    before = f"The line before is equal to {fact.before}." if fact.before else ""
    more = (Label(fact.before_span, "the line before"),) if fact.before_span else ()
    return KIND.at(
        fact.span, f"Line {fact.number} of this solution does not follow from the line before.", notes=(before, point, fact.slip), more=more
    )
