"""The formula sheet as a page and as a document: formulas that the techniques use, each proved."""

from __future__ import annotations

from ..book.data import Book
from ..book.formulas import Section, formula_sheet
from ..language import translator
from ..notation.message import Translate, sentence
from ..notation.tree import Equation, Node
from .addresses import Addresses, Here
from .errata import edition
from .formulas import conditions, wide
from .markup import element, escape, heading
from .page import Page
from .paper.model import Block, Document, Formulas, Heading, Title, Words
from .sheet import conditions as where

TITLE, FORMULAS, FILE = sentence("Formulas"), "formulas.md", "sheets/formulas.pdf"
_SAID = sentence("What the worked solutions of this book take as known. Every formula was proved before it was printed.")


def formulas_page(addresses: Addresses) -> Page:
    """The page of formulas."""
    here = Here(FORMULAS, addresses)
    return Page(FORMULAS, here.tell(TITLE), "formulas", formulas_body(here))


def formulas_body(here: Here) -> str:
    """Every section with its formulas, and the way to the printed sheet."""
    parts = [heading(here.tell(TITLE)), element("p", here.tell(_SAID))]
    for section in formula_sheet():
        title = here.tell(section.title)
        rows = (
            element("li", wide(Equation(f.question.node, f.answer), f"{title}, {number}", here), _condition(conditions(f.question, here)))
            for number, f in enumerate(section.formulas, 1)
        )
        parts += [element("h2", escape(title)), element("ul", *rows, class_="ev-formulas", role="list")]
    # A search for “sin” should find problems, not fifty formulas.
    printed = element("p", element("a", here.tell("The same on paper (PDF)"), href=here.root(FILE)))
    return element("section", *parts, printed, data_search_exclude=1)


def _condition(said: str) -> str:
    return element("span", said, class_="ev-quiet") if said else ""


def formula_document(book: Book, addresses: Addresses | None = None) -> Document:
    """The sheet for paper."""
    tell = translator(book.conventions.language)
    blocks: list[Block] = [Title(tell(TITLE), (tell(_SAID),))]
    for section in formula_sheet():
        blocks += [Heading((tell(section.title),)), Formulas(_rows(section, tell))]
    said = (book.conventions.title, edition(book), book.conventions.license)
    address = (addresses or Addresses()).whole(FORMULAS, book.conventions.address)
    return Document(tell(TITLE), tuple(blocks), " · ".join(filter(None, said)), address, book.conventions.language)


def _rows(section: Section, tell: Translate) -> tuple[tuple[Node, Node, Words], ...]:
    return tuple((f.question.node, f.answer, where(f.question, tell)) for f in section.formulas)
