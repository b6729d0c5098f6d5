"""Ready-made PDFs of a site: the worksheets and their keys, and the formula sheet. What was made once is kept."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

from ..book.data import Book
from ..book.worksheets import Worksheet
from .addresses import Addresses, Here
from .assets import Asset
from .formula_sheet import FILE, formula_document
from .markup import element, escape
from .paper.model import Document
from .paper.pdf import pdf
from .paper.typst import source
from .sheet import document, key_document


def links(page: str, made: tuple[Worksheet, ...], here: Here) -> str:
    """The ways from a page to its worksheets; empty where it has none."""
    rows = []
    for each in (each for each in made if each.sheet.path == page):
        sheet = element("a", here.tell("{sheet} (PDF)", sheet=escape(each.name)), href=here.root(f"{each.file}.pdf"))
        to_key = element("a", here.tell("its key"), href=here.root(f"{each.file}-key.pdf"))
        key = to_key if each.keyed else here.tell("the key is not published yet")
        rows.append(element("li", sheet, ", ", key))
    return element("h2", here.tell("On paper")) + element("ul", *rows, class_="ev-handouts") if rows else ""


def handouts(book: Book, made: tuple[Worksheet, ...], cache: Path, addresses: Addresses) -> Iterator[Asset]:
    """Every PDF of the site; those whose content did not change are taken from the folder `cache`."""
    yield Asset(FILE, _kept(formula_document(book, addresses), cache))
    for each in made:
        yield Asset(f"{each.file}.pdf", _kept(document(each.sheet, book, addresses=addresses), cache))
        if each.keyed:
            yield Asset(f"{each.file}-key.pdf", _kept(key_document(each.sheet, book, key="full", addresses=addresses), cache))


def _kept(page: Document, cache: Path) -> bytes:
    name = hashlib.sha256(f"{metadata.version('typst')}\n{source(page)}".encode()).hexdigest()[:32]
    file = cache / f"{name}.pdf"
    if file.is_file():
        return file.read_bytes()
    made = pdf(page)
    cache.mkdir(parents=True, exist_ok=True)
    part = file.with_suffix(".part")
    part.write_bytes(made)
    part.replace(file)
    return made
