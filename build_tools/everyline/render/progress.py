"""The page of a reader's own progress. It is kept in the browser and nowhere else; the build only lays out an empty table."""

from __future__ import annotations

from ..book.data import Book
from ..notation.message import sentence
from .addresses import Here
from .markup import element, escape, heading

PROGRESS = "progress/index.md"
TITLE = sentence("Your progress")

_OPENING = sentence(
    "What you try on this book's pages is noted in this browser, on this device, and nowhere else: "
    "there is no account, and nothing is sent. Clearing the browser's data clears it too."
)
_AGAIN = sentence(
    "A problem comes back the day after a wrong answer or one with help, "
    "and later each time that it goes well: after 1, 3, 7, 21 and 60 days."
)
_COLUMNS = (sentence("Chapter"), sentence("Problems"), sentence("Tried"), sentence("Right"), sentence("Right without help"))


def progress_body(book: Book, here: Here) -> str:
    """The table by chapter, what to try again today, and the buttons to keep a copy of it or to delete it."""
    rows = [_row(chapter.title, len(book.problems_of(chapter)), here.link(f"{chapter.folder}/index.md")) for chapter in book.chapters]
    head = element("tr", *(element("th", here.tell(name), scope="col") for name in _COLUMNS))
    table = element("table", element("thead", head), element("tbody", *rows), class_="ev-table")
    sure = here.tell("Delete what is noted?")
    buttons = (
        element("button", here.tell("Keep a copy"), type="button", class_="md-button ev-button", data_act="keep"),
        element("button", here.tell("Delete all of it"), type="button", class_="md-button ev-button", data_act="delete", data_sure=sure),
    )
    parts = (
        heading(here.tell(TITLE)),
        element("p", here.tell(_OPENING)),
        element("p", here.tell("Your browser runs no scripts here, so nothing is noted."), class_="ev-progress__off"),
        element("h2", here.tell("To try again today")),
        element("ul", class_="ev-progress__due"),
        element("p", here.tell("Nothing is due."), class_="ev-progress__none", hidden=True),
        element("p", here.tell(_AGAIN), class_="ev-quiet"),
        element("h2", here.tell("By chapter")),
        element("div", table, class_="ev-wide", tabindex=0, role="region", aria_label=here.tell("Progress by chapter")),
        element("div", *buttons, class_="ev-progress__buttons", hidden=True),
    )
    return element("div", *parts, class_="ev-progress", data_root=here.link("index.md"))


def _row(title: str, count: int, address: str) -> str:
    name = element("th", element("a", escape(title), href=address), scope="row")
    return element("tr", name, element("td", str(count)), *(element("td", "0") for _ in _COLUMNS[2:]), data_chapter=title)
