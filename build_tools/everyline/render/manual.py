"""The manual of what can be wrong with a file: a page for each code, made from the code's own module."""

from __future__ import annotations

from ..diagnostics import Kind, codes, kind
from ..notation.message import sentence
from .addresses import Here
from .markup import element, escape, heading

INDEX = "manual/index.md"
TITLE = sentence("What can be wrong with a file")
_SEVERITY = {
    "error": "An error: the book is not published until it is mended.",
    "warning": "A warning: the book is published; a strict build stops.",
    "notice": "A notice: nothing has to be done.",
}


def path_of(code: str) -> str:
    """The page of a code."""
    return f"manual/{code}.md"


def manual_body(code: str, here: Here) -> str:
    """What a code means and how to mend it, with an example before and after."""
    about = kind(code)
    parts = (
        heading(escape(about.title)),
        element("p", element("code", code), ". ", _SEVERITY[about.severity]),
        element("p", escape(about.meaning)),
        element("p", escape(about.mend)),
        _example("In the file:", about.wrong),
        _example("Mended:", about.right),
    )
    back = element("p", element("a", escape(here.tell(TITLE)), href=here.link(INDEX)))
    # The errors themselves are told in English, so the page about them is.
    return element("section", back, element("div", *parts, lang=here.english) if here.english else "".join(parts), data_search_exclude=1)


def index_body(here: Here) -> str:
    """All codes, each with its title."""
    rows = (
        element("li", element("a", element("code", code), href=here.link(path_of(code))), f" {escape(kind(code).title)}", lang=here.english)
        for code in codes()
    )
    return element("section", heading(escape(here.tell(TITLE))), element("ul", *rows), data_search_exclude=1)


def explanation(about: Kind) -> str:
    """The same as plain text, for a terminal."""
    parts = [f"{about.code}: {about.title}", _SEVERITY[about.severity], about.meaning, about.mend]
    parts += [f"{title}\n\n{_indented(text)}" for title, text in (("In the file:", about.wrong), ("Mended:", about.right)) if text]
    return "\n\n".join(parts)


def _example(title: str, text: str) -> str:
    return element("p", title) + element("pre", element("code", escape(text)), tabindex=0) if text else ""


def _indented(text: str) -> str:
    return "\n".join(f"    {line}" for line in text.splitlines())
