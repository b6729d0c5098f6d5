"""A line of the front matter that is not a field."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import BadLine
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="front-matter-line",
    severity="error",
    title="Not a field",
    meaning=(
        "Every line of the front matter at the margin is a field: a name, a colon, a space, a value. A value that goes "
        "on in the next line is indented there."
    ),
    mend="Write `name: value`.",
    wrong="level 2",
    right="level: 2",
)


def diagnose(fact: BadLine) -> Diagnostic:
    if fact.space:
        name, _, value = fact.raw.partition(":")
        return KIND.at(
            fact.span, say("After the colon of a field there must be a space."), help=say("Write: {name}: {value}", name=name, value=value)
        )
    return KIND.at(fact.span, say("This line of the front matter is not a field."))
