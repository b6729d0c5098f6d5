"""Pages that list problems: chapters, topics and the front page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..book.data import Book, Examined
from ..book.sets import interleaved_share
from ..kernel import Checked
from ..source.problem import Chapter
from ..techniques import catalogue
from .addresses import Here
from .badges import EXPLAINED, badge, weakest
from .formulas import formula
from .markup import element, escape, heading
from .problem_page import title, topics
from .solutions import method

_LEVELS = {1: "Level 1: one step", 2: "Level 2: choose a method", 3: "Level 3: several steps"}


def chapter_body(problems: Sequence[Examined], here: Here) -> str:
    """A chapter's problems by level, numbered as their pages are."""
    numbered = list(enumerate(problems, 1))
    parts = [element("h2", "Problems")] if problems else []
    for step, name in _LEVELS.items():
        rows = [_row(number, examined, here) for number, examined in numbered if examined.problem.level == step]
        if rows:
            parts += [element("h3", name), element("ol", *rows, class_="ev-rows", role="list")]
    return element("section", *parts, data_search_exclude=1)


def rows(problems: Iterable[Examined], here: Here) -> str:
    """Problems under each other, each row a link."""
    return element("ol", *(_row(number, one, here) for number, one in enumerate(problems, 1)), class_="ev-rows", role="list")


def _row(number: int, examined: Examined, here: Here) -> str:
    found = weakest(verdict.outcome for verdict in examined.keys)
    # In a list only the exceptions are marked: a column of “proved” would say nothing.
    usual = isinstance(found, Checked) and found.grade == "proved"
    state = "" if usual else badge(found, here)
    if not examined.sound:
        state = element("span", "needs mending", class_="ev-badge ev-badge--wrong")
    return element(
        "li",
        element("span", str(number), class_="ev-row__number"),
        element("a", escape(title(examined)), href=here.link(examined.problem.path), class_="ev-row__title"),
        element("span", "" if examined.question is None else formula(examined.question.node), class_="ev-row__formula"),
        element("span", state, class_="ev-row__state"),
        class_="ev-row",
    )


def topic_pages(book: Book) -> dict[str, tuple[Examined, ...]]:
    """Each technique that a solution of the book is named after, with its problems, in the order of the catalogue."""
    found: dict[str, list[Examined]] = {}
    for examined in book.examined:
        for topic in topics(examined):
            found.setdefault(topic, []).append(examined)
    return {topic: tuple(found[topic]) for topic in catalogue() if topic in found}


def topic_body(topic: str, problems: Sequence[Examined], here: Here) -> str:
    """One technique: what it is, and every problem that is worked by it."""
    about = catalogue()[topic].explains
    parts = (
        element("p", element("a", "All topics", href=here.link("topics/index.md"))),
        heading(escape(method(topic, here.tell))),
        element("p", escape(here.tell(about))) if about else "",
        element("section", rows(problems, here), data_search_exclude=1),
    )
    return "".join(parts)


def topics_body(found: dict[str, tuple[Examined, ...]], here: Here) -> str:
    """Every topic as a card."""
    shown = (card(here.link(f"topics/{topic}.md"), method(topic, here.tell), "", count(len(problems))) for topic, problems in found.items())
    return heading("Topics") + element("section", cards(*shown), data_search_exclude=1)


def home_body(book: Book, here: Here) -> str:
    """What follows the author's text on the front page: the chapters, the topics, and what has been checked."""
    shown = (_chapter_card(number, chapter, book, here) for number, chapter in enumerate(book.chapters, 1))
    chapters = element("h2", "Chapters") + cards(*shown) if book.chapters else ""
    more = element(
        "p",
        "You can also browse ",
        element("a", "by topic", href=here.link("topics/index.md")),
        ". Every answer and every line of working was checked before it was published: ",
        element("a", "what “checked” means", href=here.link(EXPLAINED)),
        ".",
    )
    return element("section", chapters, _composed(book, here), more, data_search_exclude=1)


def _composed(book: Book, here: Here) -> str:
    """The ways to the sets and the lessons, with the share of the book's practice that is mixed."""
    sets = element("p", element("a", "Sets to practise", href=here.link("sets/index.md")), ": ", share(book)) if book.sets else ""
    lessons = element("p", element("a", "Lessons", href=here.link("lessons/index.md")), ": problems in an order to teach by.")
    made = sets + (lessons if book.lessons else "")
    return element("h2", "Practise and teach") + made if made else ""


def share(book: Book) -> str:
    """How much of the book's practice is mixed, as a sentence that says what is counted."""
    part = interleaved_share(book.sets, book.examined)
    inside = round(part * len(book.examined))
    return (
        f"{inside} of the book’s {count(len(book.examined))} ({part:.0%}) also stand in a mixed set, "
        "where no two neighbours begin with the same method."
    )


def _chapter_card(number: int, chapter: Chapter, book: Book, here: Here) -> str:
    return card(here.link(f"{chapter.folder}/index.md"), chapter.title, f"Chapter {number}", count(len(book.problems_of(chapter))))


def cards(*shown: str) -> str:
    """Cards beside and under each other; nothing where there are none."""
    return element("ul", *shown, class_="ev-cards", role="list") if shown else ""


def card(address: str, name: str, above: str, note: str) -> str:
    """One card, all of it a link: a title in words, a small line above it and one below."""
    parts = (
        element("span", escape(above), class_="ev-card__number") if above else "",
        element("a", escape(name), href=address, class_="ev-card__title"),
        element("p", escape(note), class_="ev-card__note"),
    )
    return element("li", *parts, class_="ev-card")


def count(number: int) -> str:
    """`1 problem`, `12 problems`."""
    return f"{number} problem" if number == 1 else f"{number} problems"
