"""A page of the site as data."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Page:
    """One page. `path` is where its source would be (`chapter/slug.md`), `body` its HTML.

    `kind` is `problem`, `chapter`, `topic`, `topics`, `set`, `sets`, `lesson`, `lessons`, `contrast`, `contrasts`, `home`,
    `formulas`, `explained`, `errata`, `manual`, `report`, `fault` or `frame` (what other pages are set into). For a chapter, the front
    page and the lists of sets and lessons `body` comes after the author's own text. `words` (at most 160 characters) and `tags` are
    what a search should find besides the title; `edit` is the address at which a problem's file is edited.
    """

    path: str
    title: str
    kind: str
    body: str
    words: str = ""
    tags: tuple[str, ...] = ()
    edit: str = ""

    @property
    def look(self) -> dict[str, object]:
        """What a site generator is to know of the page besides its title: settings as the head of a Markdown file gives them."""
        if self.kind == "report":
            return {"template": "problem.html", "search": {"exclude": True}, "robots": "noindex"}
        if self.kind in ("frame", "manual"):
            return {"template": "problem.html", "search": {"exclude": True}}
        return {"template": "problem.html"} if self.lean else {"hide": ["toc"]}

    @property
    def lean(self) -> bool:
        """Whether the page stays out of the navigation and brings its own way back."""
        return self.kind in ("problem", "fault", "topic", "set", "lesson", "contrast", "manual", "report", "frame")

    @property
    def listing(self) -> bool:
        """Whether the body is a list of problems, each of which a search finds by its own page."""
        return self.kind == "chapter"
