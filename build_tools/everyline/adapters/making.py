"""A book's pages from its content folder, as a site generator asks for them."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..book import Book, read_and_build
from ..book.memory import open_memory
from ..book.release import published, today
from ..language import translator
from ..render.addresses import Addresses
from ..render.assets import Asset, assets
from ..render.handouts import handouts
from ..render.repository import Repository
from ..render.site import Site, site
from . import reporting


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked for: see the plugin's options and `render.site`. `address` is where the site will be."""

    content: Path
    cache: Path
    repository: Repository
    folders: bool = True
    address: str = ""
    answers: bool = True
    report: bool = False


def wanted(settings: Any, options: Any) -> Wanted:
    """From the settings of MkDocs and the options of the plugin."""
    return Wanted(
        Path(settings.docs_dir),
        Path(settings.config_file_path or ".").parent / options.cache,
        Repository(settings.repo_url or "", settings.edit_uri or ""),
        settings.use_directory_urls,
        settings.site_url or "",
        options.answers,
        options.report,
    )


@dataclass(frozen=True, slots=True)
class Found:
    """The book, its pages, and the files that lie beside them."""

    book: Book
    site: Site
    assets: tuple[Asset, ...]


def make(wanted: Wanted, previous: Found | None, *, faulty: bool) -> Found:
    """The book and its pages; everything that is wrong with it is said. What did not change is taken from the `previous` one.

    Raises:
        ValueError: it may not be published: it has errors (and is not asked for with them, `faulty`), or the day is not known.
    """
    memory = open_memory(wanted.cache)
    book, sources = read_and_build(wanted.content, workers=os.cpu_count() or 1, previous=previous.book if previous else None, memory=memory)
    reporting.tell(book, sources)
    if not book.sound and not faulty:
        tell = translator(book.conventions.language)
        raise ValueError(tell("Nothing was published: the book has errors, shown above."))
    shown = published(book, today(os.environ), answers=wanted.answers, address=wanted.address)
    made = site(
        shown,
        sources,
        folders=wanted.folders,
        repository=wanted.repository,
        report=wanted.report,
        memory=memory,
        previous=previous.site if previous else None,
    )
    printed = handouts(shown, made.worksheets, wanted.cache / "sheets", Addresses(wanted.folders))
    return Found(book, made, (*assets(wanted.cache / "font", book.conventions.language), *printed))
