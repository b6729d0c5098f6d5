"""A line of a hand-written solution that does not follow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, figure, say
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
    slip: Message | None = None
    before_span: Span | None = None


def diagnose(fact: WrongLine) -> Diagnostic:
    place = f"{fact.variable} = {fact.witness}"
    point = say("Wrong at {place}.", place=place) if fact.witness else None
    if point is not None and fact.wanted_there and fact.got_there:
        values = say("the line before gives {wanted}, this one {got}", wanted=figure(fact.wanted_there), got=figure(fact.got_there))
        point = say("Wrong at {place}: there {values}.", place=place, values=values)
    before = say("The line before is equal to {before}.", before=fact.before) if fact.before else None
    more = (Label(fact.before_span, say("the line before")),) if fact.before_span else ()
    return KIND.at(
        fact.span,
        say("Line {number} of this solution does not follow from the line before.", number=fact.number),
        notes=(before, point, fact.slip),
        more=more,
    )
