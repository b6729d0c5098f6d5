"""A file over the limit."""

from __future__ import annotations

from ...source.faults import TooLarge
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="too-large",
    severity="error",
    title="Too large",
    meaning=(
        "A file of a book is text that a person has written; there is a limit to its size, so that nobody can stop a build with a huge one."
    ),
    mend="Make it shorter; split it into several problems.",
    wrong="",
    right="",
)


def _sizes(size: int, limit: int, unit: str) -> str:
    said = f"over {limit:,}" if size == limit + 1 else f"{size:,}"
    return f"It has {said} {unit}; the limit is {limit:,}."


def diagnose(fact: TooLarge) -> Diagnostic:
    unit = "bytes" if fact.what == "file" else "characters"
    what = "file" if fact.what == "file" else fact.what
    return KIND.at(fact.span, f"This {what} is too large.", notes=(_sizes(fact.size, fact.limit, unit),))
