"""Finished pages put into a site at its end: the theme is asked once for a frame, and each page is set into a copy of it.

A site generator needs milliseconds for a page, and more the more pages there are; a large book is rebuilt after every save. Here a
page costs its writing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from urllib.parse import quote
from xml.sax.saxutils import escape as xml

from ..render.addresses import Addresses
from ..render.markup import escape
from ..render.page import Page
from ..render.site import Site
from ..source.load import BOOK_FILE

#: Stand in a frame for what differs from page to page. Nothing in a theme or a book looks like them.
_NAME, _TITLE, _WORDS, _EDIT = "everyline-frame", "everyline-frame-title", "everyline-frame-words", "https://everyline-frame-edit/"
#: With a heading, for a theme gives one to a page that has none.
_BODY = "<h1>everyline-frame-body</h1>"
#: Stands on a page for a list that is set in when theme and search are done with it: they would read every formula in it.
_LATER = '<p data-search-exclude="1">everyline-list</p>'
#: What only the search has use for (as Material for MkDocs takes it out of its pages).
_FOR_SEARCH = re.compile(r'\s?data-search-\w+="[^"]+"')
#: What makes a place on a page that the search would lead to by itself.
_HEADED = re.compile(r'(<h[1-6]\b[^>]*?) id="[^"]*"')
_STANDS = re.compile("<p[^>]*>everyline-list</p>")


@dataclass(slots=True)
class Placing:
    """The pages of a book that are placed, and the frames for them as the theme makes them."""

    pages: tuple[Page, ...]
    addresses: Addresses
    frames: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def wanted(self) -> tuple[Page, ...]:
        """The pages that the site generator is to build so that the others can be set into them: one for each depth of folders."""
        return tuple(_frame(path) for path in sorted({frame_path(page) for page in self.pages}))

    def taken(self, page: Page, html: str) -> str:
        """A page as the theme made it becomes what the site is to have: a list in place of what stood for it; of a frame nothing."""
        if page.kind == "frame":
            return self.take(page.path, html)
        return _STANDS.sub(lambda _: _FOR_SEARCH.sub("", page.body), html) if page.listing else html

    def take(self, path: str, html: str) -> str:
        """A frame as the theme made it; what is left of it for the site is nothing."""
        stands = "|".join(map(re.escape, (quote(self.addresses.of(path)), _TITLE, _WORDS, _BODY, _EDIT)))
        self.frames[path] = tuple(re.split(f"({stands})", html))
        return ""

    def html(self, page: Page) -> str:
        """The whole of a page. Raises LookupError where its frame was not made."""
        path = frame_path(page)
        values = {
            quote(self.addresses.of(path)): quote(self.addresses.of(page.path)),
            _TITLE: escape(page.title),
            _WORDS: escape(page.words or page.title),
            _BODY: _FOR_SEARCH.sub("", page.body),
            _EDIT: escape(page.edit),
        }
        return "".join(values.get(piece, piece) for piece in self.frames[path])

    def files(self) -> dict[str, Page]:
        """Every page, by its file in the folder of the site."""
        found = ((self.addresses.of(page.path), page) for page in self.pages)
        return {f"{address}index.html" if address.endswith("/") else address: page for address, page in found}

    def write(self, site: Path, before: Placing | None = None) -> None:
        """Every page, at its place in the folder of the site; but those that are there as they were placed `before`."""
        there = before.files() if before else {}
        old = before.frames if before else {}
        made: set[str] = set()
        for name, page in self.files().items():
            if name in there and there[name] == page and old.get(frame_path(page)) == self.frames[frame_path(page)]:
                continue
            target = f"{site}/{name}"
            folder = target.rpartition("/")[0]
            if folder not in made:
                Path(folder).mkdir(parents=True, exist_ok=True)
                made.add(folder)
            with open(target, "wb") as file:
                file.write(self.html(page).encode())

    def found(self) -> Iterable[Any]:
        """What the search is told of each page: its title, its words, its tags. TeX in an index makes it large and finds nothing."""
        for page in self.pages:
            said = page.words if page.words != page.title else ""
            # an element, also an empty one: a page that has none is not found at all
            content = _HEADED.sub(r"\1", page.body) if page.kind in ("set", "lesson") else f"<p>{escape(said)}</p>"
            meta: Mapping[str, Any] = {"title": page.title, "tags": list(page.tags), "search": {"exclude": page.kind in _UNFOUND}}
            url = quote(self.addresses.of(page.path))
            yield SimpleNamespace(content=content, meta=meta, title=page.title, url=url, toc=())

    def in_sitemap(self, text: str, base: str) -> str:
        """The map of the site (sitemaps.org, protocol 0.9) with the placed pages in place of the frames. `base` is the site's address."""
        text = re.sub(rf"\s*<url>\s*<loc>[^<]*{_NAME}[^<]*</loc>.*?</url>", "", text, flags=re.DOTALL)
        rows = (f"    <url>\n         <loc>{xml(base + quote(self.addresses.of(page.path)))}</loc>\n    </url>\n" for page in self.pages)
        return text.replace("</urlset>", "".join(rows) + "</urlset>")


_UNFOUND = ("manual", "fault")


def content(page: Page) -> str:
    """What a page of the theme is to hold after its author's text."""
    return _LATER if page.listing else page.body


def can_be_placed(page: Page) -> bool:
    """Whether a page has nothing of its own in the theme but title, body and ways to its file."""
    return page.lean and page.kind != "report" and not page.path.endswith("index.md")


def frame_path(page: Page) -> str:
    """Where the frame of a page is made: as many folders deep as the page, for every address in the theme starts there."""
    kind = f"{_NAME}-e" if page.edit else _NAME
    return "/".join([kind] * page.path.count("/") + [f"{kind}.md"])


def _frame(path: str) -> Page:
    return Page(path, _TITLE, "frame", _BODY, _WORDS, edit=_EDIT if f"{_NAME}-e" in path else "")


def place(made: Site, placing: Placing, files: Any, new: Callable[[str, bool], Any]) -> None:
    """Pages in place of the problem files. A chapter's or the front page's own file stays, and the page's body follows its text.

    `files` are MkDocs' files, `new` makes one of them at a path; True: for a page out of the navigation. A placed page is known to
    links, and MkDocs neither reads nor builds it: once its address is known, its file says that it is no page.
    """
    placed = {page.path for page in placing.pages}
    for page in (*made.pages, *placing.wanted()):
        own = files.get_file_from_path(page.path)
        if own is not None and page.lean:
            files.remove(own)
        if own is None or page.lean:
            file = new(page.path, page.lean)
            if page.path in placed and file.url:
                file.is_documentation_page, file.copy_file = _no, _no
            files.append(file)
    if settings := files.get_file_from_path(BOOK_FILE):
        files.remove(settings)


def _no(*_: object, **__: object) -> bool:
    return False


def navigation(made: Site, files: Any) -> list[Any]:
    """The navigation of a book whose owner gives none: the front page, the pages that lie beside the chapters, then the book's own."""
    known = {page.path for page in made.pages}
    others = [file.src_uri for file in files.documentation_pages() if file.src_uri not in known and "/" not in file.src_uri]
    own: list[Any] = [{title: path} for title, path in made.navigation]
    return [*own[:1], *(path for path in others if _NAME not in path), *own[1:]]
