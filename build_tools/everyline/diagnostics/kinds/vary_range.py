"""The numbers that a letter of a family may be."""

from __future__ import annotations

from ...notation.message import say, sentence
from ...source.faults import BadRange
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="vary-range",
    severity="error",
    title="Numbers of a letter cannot be read",
    meaning="After a letter of a family come the whole numbers that it may be: from a first to a last one, or one by one.",
    mend="Write `2..9`, `-5..5 except 0`, or `1, 2, 4`.",
    wrong="vary: {a: 2 to 9}",
    right="vary: {a: 2..9}",
)
_WHY = {
    "form": sentence("`{value}` does not say which whole numbers `{name}` may be."),
    "backwards": sentence("`{value}` goes backwards, so `{name}` has no numbers."),
    "large": sentence("`{value}` is too much: a letter has at most 200 numbers, none beyond 1000."),
    "empty": sentence("Nothing is left that `{name}` could be."),
}


def diagnose(fact: BadRange) -> Diagnostic:
    mend = say("Write the smaller number first.") if fact.why == "backwards" else None
    return KIND.at(fact.span, say(_WHY.get(fact.why, _WHY["form"]), name=fact.name, value=fact.value), help=mend)
