"""A file that is not read."""

from __future__ import annotations

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
    "outside": ("This file is a link that leads out of the book's folder.", "Put a copy of the file here."),
    "linked-folder": ("This folder is a link; links to folders are not followed.", "Move the folder here."),
    "not-a-file": ("This is not a plain file.", "Take it out of the book's folder."),
    "unreadable": ("This file could not be opened.", "Allow it to be read, or take it out."),
    "name": ("The name of this file has characters that do not belong in an address.", "Use letters, digits and hyphens."),
    "no-chapter": (
        "This problem belongs to no chapter, so it would be left out.",
        "Move it into the folder of a chapter, or give its folder an `index.md` with a title and an order.",
    ),
}


def diagnose(fact: RefusedFile) -> Diagnostic:
    headline, mend = _WHY[fact.why]
    return KIND.at(fact.span, headline, help=mend)
