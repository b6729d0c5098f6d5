"""Front matter without an end."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import UnclosedFrontMatter
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="front-matter-unclosed",
    severity="error",
    title="Front matter never ends",
    meaning="The front matter is opened by a line `---` and must be closed by another one.",
    mend="After the last field write a line `---`.",
    wrong="---\nkey: x + C",
    right="---\nkey: x + C\n---",
)


def diagnose(fact: UnclosedFrontMatter) -> Diagnostic:
    return KIND.at(fact.span, say("The front matter that begins here is never closed."))
