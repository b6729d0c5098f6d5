"""A key with two readings of which one is right."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

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
    note = f"The other reading, {' or '.join(others)}, would be wrong." if others else ""
    return KIND.at(fact.span, f"This key has two readings; `{fact.taken}` is right and was taken.", notes=(note,))
