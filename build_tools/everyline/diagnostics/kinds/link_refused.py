"""A link that may not be."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import BadLink
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="link-refused",
    severity="error",
    title="Link refused",
    meaning="A link in a problem leads to a web page (`https://…`), or to another file of the same book.",
    mend="Give the full address of a web page, beginning with https://, or the path of a file inside the book.",
    wrong="[see](../../notes.md)",
    right="[see](../substitution/halves.md)",
)


def diagnose(fact: BadLink) -> Diagnostic:
    outside = say("The link `{target}` leads out of the book's folder.", target=fact.target)
    return KIND.at(fact.span, outside if fact.outside else say("The link `{target}` is not the address of a web page.", target=fact.target))
