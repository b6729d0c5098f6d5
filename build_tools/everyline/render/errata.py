"""The page of errata: what was put right, with its day, newest first."""

from __future__ import annotations

from ..book.data import Book
from ..language import day
from ..notation.message import sentence
from .addresses import Here
from .markup import element, escape, heading
from .problem_page import title
from .prose import inline

TITLE, ERRATA = sentence("Errata"), "errata.md"


def edition(book: Book) -> str:
    """`Second edition, 9 January 2027`, as far as the book says it, in its language."""
    said = (book.conventions.edition, day(book.conventions.dated, book.conventions.language) if book.conventions.dated else "")
    return ", ".join(part for part in said if part)


def errata_body(book: Book, here: Here) -> str:
    """The edition, and every correction with a link to its page."""
    names = {e.problem.path: title(e, here.said) for e in book.examined}
    rows = (
        element(
            "li",
            element("time", here.day(erratum.day), datetime=erratum.day),
            " · ",
            element("a", escape(names.get(erratum.page, erratum.page.removesuffix(".md"))), href=here.link(erratum.page)),
            ": ",
            inline(erratum.said, here),
        )
        for erratum in sorted(book.conventions.errata, key=lambda erratum: erratum.day, reverse=True)
    )
    listed = "".join(rows)
    now = element("p", here.tell("This is the {edition}.", edition=escape(edition(book)))) if edition(book) else ""
    return (
        heading(here.tell(TITLE))
        + now
        + (element("ul", listed) if listed else element("p", here.tell("Nothing has had to be put right so far.")))
    )
