"""A name under `vary` that cannot be a letter of a family."""

from __future__ import annotations

from ...notation.message import say, sentence
from ...source.faults import BadLetter
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="vary-letter",
    severity="error",
    title="Not a letter for a family",
    meaning="What stands under `vary` is a letter of the formulas and the numbers that it may be. This name cannot be one.",
    mend="Use a single letter such as `a`, `b` or `n`, and write its numbers after it: `a: 2..9`.",
    wrong="vary: {speed: 2..9}",
    right="vary: {a: 2..9}",
)
_WHY = {
    "name": sentence("`{name}` is not a single letter."),
    "taken": sentence("`{name}` already has a meaning in formulas."),
    "many": sentence("A family has at most six letters; `{name}` is one too many."),
}


def diagnose(fact: BadLetter) -> Diagnostic:
    return KIND.at(fact.span, say(_WHY.get(fact.why, _WHY["name"]), name=fact.name))
