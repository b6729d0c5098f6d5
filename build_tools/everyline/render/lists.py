"""Pages that list problems: chapters, topics and the front page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..book.data import Book, Examined
from ..book.sets import interleaved_share
from ..kernel import Checked
from ..notation.message import sentence
from ..source.problem import Chapter
from ..techniques import catalogue
from .addresses import Here
from .badges import EXPLAINED, badge, weakest
from .formulas import formula
from .markup import element, escape, heading
from .problem_page import title, topics
from .solutions import method

_LEVELS = {1: sentence("Level 1: one step"), 2: sentence("Level 2: choose a method"), 3: sentence("Level 3: several steps")}


def chapter_body(problems: Sequence[Examined], here: Here) -> str:
    """A chapter's problems by level, numbered as their pages are."""
    numbered = list(enumerate(problems, 1))
    parts = [element("h2", here.tell("Problems"))] if problems else []
    for step, name in _LEVELS.items():
        rows = [_row(number, examined, here) for number, examined in numbered if examined.problem.level == step]
        if rows:
            parts += [element("h3", here.tell(name)), element("ol", *rows, class_="ev-rows", role="list")]
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
        state = element("span", here.tell("needs mending"), class_="ev-badge ev-badge--wrong")
    return element(
        "li",
        element("span", str(number), class_="ev-row__number"),
        element("a", escape(title(examined, here.said)), href=here.link(examined.problem.path), class_="ev-row__title"),
        element("span", "" if examined.question is None else formula(examined.question.node, here), class_="ev-row__formula"),
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
        element("p", element("a", here.tell("All topics"), href=here.link("topics/index.md")), class_="ev-path"),
        heading(escape(method(topic, here.tell))),
        element("p", escape(here.tell(about))) if about else "",
        element("section", rows(problems, here), data_search_exclude=1),
    )
    return "".join(parts)


def topics_body(found: dict[str, tuple[Examined, ...]], here: Here) -> str:
    """Every topic as a card."""
    shown = (
        card(here.link(f"topics/{topic}.md"), method(topic, here.tell), "", count(len(problems), here)) for topic, problems in found.items()
    )
    return heading(here.tell("Topics")) + element("section", cards(*shown), data_search_exclude=1)


def home_body(book: Book, here: Here) -> str:
    """What follows the author's text on the front page: the chapters, the topics, and what has been checked."""
    shown = (_chapter_card(number, chapter, book, here) for number, chapter in enumerate(book.chapters, 1))
    chapters = element("h2", here.tell("Chapters")) + cards(*shown) if book.chapters else ""
    more = here.tell(
        "You can also browse {topics}. Every answer and every line of working was checked before it was published: {checked}.",
        topics=element("a", here.tell("by topic"), href=here.link("topics/index.md")),
        checked=element("a", here.tell("what “checked” means"), href=here.link(EXPLAINED)),
    )
    return element("section", chapters, _composed(book, here), element("p", more), data_search_exclude=1)


def _composed(book: Book, here: Here) -> str:
    """The ways to the sets and the lessons, with the share of the book's practice that is mixed."""
    to_sets = element("a", here.tell("Sets to practise"), href=here.link("sets/index.md"))
    to_lessons = element("a", here.tell("Lessons"), href=here.link("lessons/index.md"))
    sets = element("p", to_sets, ": ", share(book, here)) if book.sets else ""
    lessons = element("p", here.tell("{lessons}: problems in an order to teach by.", lessons=to_lessons)) if book.lessons else ""
    return element("h2", here.tell("Practise and teach")) + sets + lessons if sets or lessons else ""


def share(book: Book, here: Here) -> str:
    """How much of the book's practice is mixed, as a sentence that says what is counted."""
    part = interleaved_share(book.sets, book.examined)
    return here.tell(
        "{inside} of the book’s {problems} ({share}) also stand in a mixed set, where no two neighbours begin with the same method.",
        inside=round(part * len(book.examined)),
        problems=count(len(book.examined), here),
        share=here.percent(part),
    )


def _chapter_card(number: int, chapter: Chapter, book: Book, here: Here) -> str:
    name = here.tell("Chapter {number}", number=number)
    return card(here.link(f"{chapter.folder}/index.md"), chapter.title, name, count(len(book.problems_of(chapter)), here))


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


def count(number: int, here: Here) -> str:
    """`1 problem`, `12 problems`."""
    return here.tell("{count} problem" if number == 1 else "{count} problems", count=number)
