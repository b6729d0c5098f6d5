"""A file without front matter."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import NoFrontMatter
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="front-matter-missing",
    severity="error",
    title="No front matter",
    meaning="A problem file begins with its front matter: a first line `---`, the fields, and a second line `---`.",
    mend="Begin the file with a line `---`, then the fields, then a line `---`.",
    wrong="question: \\int x \\, dx",
    right="---\nquestion: \\int x \\, dx\nkey: \\frac{x^2}{2} + C\n---",
)


def diagnose(fact: NoFrontMatter) -> Diagnostic:
    if fact.late:
        return KIND.at(
            fact.span,
            say("The front matter does not begin on the first line."),
            help=say("Make this `---` the very first line of the file."),
        )
    return KIND.at(fact.span, say("This file has no front matter."))
