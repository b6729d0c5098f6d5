"""Where pages are: from one page to another, whatever way the site writes its addresses."""

from __future__ import annotations

import posixpath
from dataclasses import dataclass
from functools import cache

from .. import language
from ..notation import Spoken, spoken


@dataclass(frozen=True, slots=True)
class Addresses:
    """How a page's path (`chapter/slug.md`) becomes an address.

    `folders` True: `chapter/slug/`; False: `chapter/slug.html`, for a site that is opened from a disk. `language` is the code of the
    language that the pages are in.
    """

    folders: bool = True
    language: str = "en"

    def of(self, path: str) -> str:
        """The address of a page, relative to the site's root (`""` is the root itself)."""
        stem = path.removesuffix(".md")
        folder, name = posixpath.split(stem)
        if name == "index":
            return (f"{folder}/" if folder else "") if self.folders else posixpath.join(folder, "index.html")
        return f"{stem}/" if self.folders else f"{stem}.html"

    def whole(self, path: str, site: str) -> str:
        """The address of a page with that of the site before it; empty where the site has none, the site's own without a page."""
        return site + (self.of(path) if path else "") if site else ""

    def link(self, start: str, target: str, place: str = "") -> str:
        """The address of the page `target` as written on the page `start`; `place` is an id on it."""
        here = self.of(start)
        folder = here if here.endswith("/") or not here else posixpath.dirname(here)
        there = self.of(target)
        relative = posixpath.relpath(there or ".", folder or ".")
        if there.endswith("/") or not there:
            relative = "./" if relative == "." else f"{relative}/"
        return f"{relative}#{place}" if place else relative


@dataclass(frozen=True, slots=True)
class Here:
    """The page that is being written: every address on it starts here, and every word on it is in its language."""

    path: str
    addresses: Addresses

    def tell(self, text: str, /, **values: object) -> str:
        """A sentence or label of the catalogue in the language of the page; `values` go into its `{named}` places."""
        return language.translator(self.addresses.language)(text, **values)

    @property
    def said(self) -> Spoken:
        """The words in which the page's formulas are said aloud."""
        return _said(self.addresses.language)

    @property
    def english(self) -> str | None:
        """The `lang` of a part that stays in English, whatever the page is in (WCAG 2.2, 3.1.2); None on an English page."""
        return None if language.spoken(self.addresses.language) == language.ENGLISH else language.ENGLISH

    def day(self, text: str) -> str:
        """`2027-03-01` as the language of the page writes it."""
        return language.day(text, self.addresses.language)

    def number(self, text: str) -> str:
        """A number as Python writes it (`1,234.5`), with the marks of the page's language."""
        return language.number(text, self.addresses.language)

    def percent(self, share: float) -> str:
        """A share as whole per cent."""
        return language.percent(share, self.addresses.language)

    def link(self, target: str, place: str = "") -> str:
        """The address of another page (or of a place on it), as written on this one."""
        return self.addresses.link(self.path, target, place)

    def beside(self, target: str) -> str:
        """The address of a page whose path is written relative to this page's source, as a link in its text is."""
        return self.link(posixpath.normpath(posixpath.join(posixpath.dirname(self.path), target)))

    def root(self, target: str) -> str:
        """The address of a file that is named from the site's root, as written on this page."""
        here = self.addresses.of(self.path)
        return posixpath.relpath(target, (here if here.endswith("/") else posixpath.dirname(here)) or ".")

    def file(self, target: str) -> str:
        """The address of a file that lies beside this page's source, as written on this page."""
        return self.root(posixpath.normpath(posixpath.join(posixpath.dirname(self.path), target)))


@cache
def _said(code: str) -> Spoken:
    return spoken(language.translator(code))
