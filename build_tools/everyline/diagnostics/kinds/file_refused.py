"""A file that is not read."""

from __future__ import annotations

from ...notation.message import Message, sentence
from ...source.faults import RefusedFile
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="file-refused",
    severity="error",
    title="File refused",
    meaning="A book is read from its own folder only, from plain files.",
    mend="Put a plain file inside the book's folder.",
    wrong="",
    right="",
)


_WHY = {
    "outside": (sentence("This file is a link that leads out of the book's folder."), sentence("Put a copy of the file here.")),
    "linked-folder": (sentence("This folder is a link; links to folders are not followed."), sentence("Move the folder here.")),
    "not-a-file": (sentence("This is not a plain file."), sentence("Take it out of the book's folder.")),
    "unreadable": (sentence("This file could not be opened."), sentence("Allow it to be read, or take it out.")),
    "name": (
        sentence("The name of this file has characters that do not belong in an address."),
        sentence("Use letters, digits and hyphens."),
    ),
    "no-chapter": (
        sentence("This problem belongs to no chapter, so it would be left out."),
        sentence("Move it into the folder of a chapter, or give its folder an `index.md` with a title and an order."),
    ),
}


def diagnose(fact: RefusedFile) -> Diagnostic:
    headline, mend = _WHY[fact.why]
    return KIND.at(fact.span, Message(headline), help=Message(mend))
