"""The manual of what can be wrong with a file: a page for each code, made from the code's own module."""

from __future__ import annotations

from ..diagnostics import Kind, codes, kind
from ..notation.message import Translate, sentence
from .addresses import Here
from .markup import element, escape, heading

INDEX = "manual/index.md"
TITLE = sentence("What can be wrong with a file")
_SEVERITY = {
    "error": sentence("An error: the book is not published until it is mended."),
    "warning": sentence("A warning: the book is published; a strict build stops."),
    "notice": sentence("A notice: nothing has to be done."),
}


def path_of(code: str) -> str:
    """The page of a code."""
    return f"manual/{code}.md"


def manual_body(code: str, here: Here) -> str:
    """What a code means and how to mend it, with an example before and after."""
    about = kind(code)
    parts = (
        element("p", element("a", escape(here.tell(TITLE)), href=here.link(INDEX))),
        heading(escape(here.tell(about.title))),
        element("p", element("code", code, lang=here.english), ". ", escape(here.tell(_SEVERITY[about.severity]))),
        element("p", escape(here.tell(about.meaning))),
        element("p", escape(here.tell(about.mend))),
        *(_example(title, text, here) for title, text in _examples(about, here.tell)),
    )
    return element("section", *parts, data_search_exclude=1)


def index_body(here: Here) -> str:
    """All codes, each with its title."""
    codes_said = ((code, element("code", code, lang=here.english), escape(here.tell(kind(code).title))) for code in codes())
    rows = (element("li", element("a", shown, href=here.link(path_of(code))), f" {title}") for code, shown, title in codes_said)
    return element("section", heading(escape(here.tell(TITLE))), element("ul", *rows), data_search_exclude=1)


def explanation(about: Kind, tell: Translate = str) -> str:
    """The same as plain text, for a terminal."""
    parts = [f"{about.code}: {tell(about.title)}", tell(_SEVERITY[about.severity]), tell(about.meaning), tell(about.mend)]
    return "\n\n".join([*parts, *(f"{title}\n\n{_indented(text)}" for title, text in _examples(about, tell))])


def _examples(about: Kind, tell: Translate) -> list[tuple[str, str]]:
    """A piece of a file before and after, each with its title."""
    return [(title, text) for title, text in ((tell("In the file:"), about.wrong), (tell("Mended:"), about.right)) if text]


def _example(title: str, text: str, here: Here) -> str:
    """An example is of a file in English, whatever the page is in."""
    return element("p", escape(title)) + element("pre", element("code", escape(text), lang=here.english), tabindex=0)


def _indented(text: str) -> str:
    return "\n".join(f"    {line}" for line in text.splitlines())
