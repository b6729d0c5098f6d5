"""Looking at a site that was made."""

from __future__ import annotations

from everyline.render.page import Page
from everyline.render.site import Site


def page(made: Site, path: str) -> Page:
    """The page of a source."""
    return next(each for each in made.pages if each.path == path)
