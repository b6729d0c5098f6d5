"""A key that was checked on a part of the line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import figure, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="key-window",
    severity="notice",
    title="Checked on a part",
    meaning=(
        "The domain is endless and the function repeats or grows without a pattern that could be followed to the end, "
        "so the key was followed for jumps on a part of the line only."
    ),
    mend="Nothing has to be done. A `domain` in the file makes the statement complete.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class WindowedKey:
    """`place` is the part, as text."""

    code: ClassVar[str] = KIND.code
    span: Span
    place: str


def diagnose(fact: WindowedKey) -> Diagnostic:
    first, _, last = fact.place.partition(" … ")
    place = say("{first} … {last}", first=figure(first), last=figure(last)) if last else figure(first)
    return KIND.at(fact.span, say("This key was followed for jumps on {place} only.", place=place))
