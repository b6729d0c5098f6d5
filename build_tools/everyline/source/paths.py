"""What pages are called: their paths, the names in them, and those names in words."""

from __future__ import annotations


def page_path(said: str) -> str:
    """The path of the page that is meant: `chapter/name`, with or without `.md` and a leading `/`."""
    return said.strip().lstrip("/").removesuffix(".md") + ".md"


def page_name(path: str) -> str:
    """The last part of a page's path, without its ending: `by-the-tide` of `parts/by-the-tide.md`."""
    return path.rsplit("/", 1)[-1].removesuffix(".md")


def spelt_out(name: str) -> str:
    """A name as a title: `By the tide`."""
    return name.replace("-", " ").capitalize()
