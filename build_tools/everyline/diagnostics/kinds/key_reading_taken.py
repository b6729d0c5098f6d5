"""A key with two readings of which one is right."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import either, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-reading-taken",
    severity="notice",
    title="One reading taken",
    meaning=(
        "The key can be read in more than one way; exactly one reading is a right answer, so it was taken, and the page"
        " shows it as a fraction."
    ),
    mend="To be asked no more, write the key as it is shown here.",
    wrong="key: 1/2x + C",
    right="key: \\frac{1}{2}x + C",
)


@dataclass(frozen=True, slots=True)
class AmbiguousKeyTaken:
    """`taken` is the reading, written clearly; `readings` all of them."""

    code: ClassVar[str] = KIND.code
    span: Span
    taken: str
    readings: tuple[str, ...] = ()


def diagnose(fact: AmbiguousKeyTaken) -> Diagnostic:
    others = [f"`{reading}`" for reading in fact.readings if reading != fact.taken]
    note = say("The other reading, {ways}, would be wrong.", ways=either(others)) if others else None
    return KIND.at(fact.span, say("This key has two readings; `{taken}` is right and was taken.", taken=fact.taken), notes=(note,))
