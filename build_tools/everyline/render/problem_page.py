"""The page of one problem."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ..book.data import Examined, KeyVerdict, MadeContrast, Vouched
from ..diagnostics.formats.text import HasLines
from ..notation import Spoken
from ..notation import words as in_words
from ..notation.build import contains
from ..notation.message import sentence
from ..notation.question import Question
from ..notation.tree import Derivative, Node
from ..source.paths import spelt_out
from ..source.problem import Chapter
from .addresses import Here
from .badges import badge, weakest
from .banner import banner
from .box import box
from .family import has_others, others
from .film import film
from .find_slip import find_slip
from .finish import finish
from .first_move import first_moves, no_help
from .formulas import annotated, conditions, wide
from .markup import bare, element, escape, fold, heading, scrolling, shorten
from .pace import board
from .plot import SEEN, plot
from .prose import inline, prose
from .released import not_yet
from .remarks import of_answer, of_check
from .solutions import brought_together, checking, identities, method, worked, written_out

#: What a question asks for, by its kind.
ASKS = {
    "indefinite": sentence("Find the antiderivatives"),
    "definite": sentence("Find the value"),
    "derivative": sentence("Differentiate"),
    "limit": sentence("Find the limit"),
}
#: Who and what a problem comes from.
_BY, _SOURCE, _LICENCE, _VIDEO = sentence("By {it}"), sentence("Source: {it}"), sentence("Licence: {it}"), sentence("Video: {it}")


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a problem stands in the book: its chapter, its number there, the problems on either side, and its contrasts."""

    examined: Examined
    chapter: Chapter | None
    number: int
    count: int
    previous: Examined | None = None
    next: Examined | None = None
    contrasts: tuple[MadeContrast, ...] = ()


def title(examined: Examined, said: Spoken) -> str:
    """A problem's title as plain words; one without is called what its question is, in the words `said`."""
    problem = examined.problem
    if problem.title is not None:
        return bare(problem.title.value)
    if examined.question is not None:
        return shorten(in_words(examined.question.node, said), 90)
    return spelt_out(problem.slug)


def words(examined: Examined, said: Spoken) -> str:
    """What the question is in plain words, at most 160 characters: what the search finds."""
    return "" if examined.question is None else shorten(in_words(examined.question.node, said), 160)


def topics(examined: Examined) -> tuple[str, ...]:
    """The techniques that a problem is worked by, each once, preferred solution first."""
    return examined.methods if examined.sound else ()


def body(spot: Spot, here: Here, home: str, lines: HasLines, ways: str = "") -> str:
    """Everything on a problem's page, from the way back to the next problem. `home` is what the front page is called.

    `ways` is HTML: the ways to where the file is kept.
    """
    examined = spot.examined
    fault = banner(examined.diagnostics, lines, here)
    parts = (
        _path(spot, here, home),
        heading(inline(examined.problem.title.value, here) if examined.problem.title else escape(title(examined, here.said))),
        fault,
        "" if examined.question is None else _question(spot, examined.question, here),
        _rest(spot, here) if examined.sound else "",
        board(here, numbers=has_others(examined)) if examined.sound and _solutions(examined, here) else "",
        _neighbours(spot, here),
        ways,
    )
    chapter = spot.chapter.title if spot.chapter else ""
    return element(
        "div", *parts, class_="ev-problem", data_problem=examined.problem.path, data_chapter=chapter, data_title=title(examined, here.said)
    )


def _path(spot: Spot, here: Here, home: str) -> str:
    steps = [element("a", escape(home), href=here.link("index.md"))]
    if spot.chapter is not None:
        steps.append(element("a", escape(spot.chapter.title), href=here.link(f"{spot.chapter.folder}/index.md")))
    steps.append(element("span", here.tell("{number} of {count}", number=spot.number, count=spot.count), aria_current="page"))
    return element(
        "nav",
        element("ol", *(element("li", step) for step in steps)),
        class_="ev-path",
        aria_label=here.tell("Where this page is"),
        data_search_exclude=1,
    )


def _question(spot: Spot, question: Question, here: Here) -> str:
    examined = spot.examined
    found = weakest(verdict.outcome for verdict in examined.keys) if examined.sound else None
    where = conditions(question, here)
    facts = element("div", level(examined.problem.level, here), badge(found, here), class_="ev-facts")
    asked = wide(question.node, here.tell("The question"), here) + (element("p", where, class_="ev-question__where") if where else "")
    # The search index forgets that it is inside a left-out element at the first end tag of that name: so sections, never nested.
    return element(
        "div",
        element(
            "section",
            element("p", here.tell(ASKS[question.kind]), class_="ev-question__ask"),
            facts,
            class_="ev-facts",
            data_search_exclude=1,
        ),
        element("section", asked, data_search_exclude=1),
        # Without a title of its own the page is already called what these words say.
        element("p", escape(words(examined, here.said)), class_="ev-question__words") if examined.problem.title else "",
        class_="ev-question",
    )


def level(value: int, here: Here) -> str:
    """A problem's level as words, with three dots beside them."""
    dots = "".join(element("span", class_="ev-level__step" + (" ev-level__step--on" if step <= value else "")) for step in (1, 2, 3))
    name = here.tell("Level {level} of 3", level=value)
    return element("span", element("span", dots, class_="ev-level__steps", aria_hidden="true"), name, class_="ev-level")


def _rest(spot: Spot, here: Here) -> str:
    """What comes after the question: the teacher's prose, hints, the answer, solutions, and who wrote it. Kept out of the search."""
    examined = spot.examined
    parts = (
        not_yet(examined, here),
        element("div", prose(examined.problem.prose, here), class_="ev-prose") if examined.problem.prose.strip() else "",
        _group(here.tell("Which first move?"), [first_moves(examined, here)], "ev-moves"),
        box(examined, here),
        _group(here.tell("Hints"), [_hint(n, text.value, here) for n, text in enumerate(examined.problem.hints, 1)], "ev-hints"),
        _group(here.tell("Answer"), [_answer(examined, here)], "ev-answers"),
        _group(here.tell("Drawn"), [_drawn(examined, here)], "ev-drawings"),
        _group(here.tell("Worked solutions"), _solutions(examined, here), "ev-solutions"),
        _group(here.tell("How it was checked"), _checks(examined, here), "ev-checks"),
        _group(here.tell("Same kind, new numbers"), [others(examined, here)], "ev-family"),
        _tags(examined, here),
        _contrasts(spot.contrasts, here),
        _credit(examined, here),
    )
    return element("section", *parts, data_search_exclude=1)


def _group(name: str, folds: list[str], kind: str) -> str:
    folds = [made for made in folds if made]
    if not folds:
        return ""
    return element("h2", name, class_="ev-folds-title") + element("div", *folds, class_=f"ev-folds {kind}")


def _hint(number: int, text: str, here: Here) -> str:
    name = element("span", here.tell("Hint {number}", number=number), class_="ev-fold__title")
    return fold(f"hint-{number}", name, element("p", inline(text, here)), kind="ev-hint")


def answers(examined: Examined, here: Here) -> str:
    """Every key of a problem, with what a reader should know of it; empty where it is withheld."""
    question, several = examined.question, len(examined.keys) > 1
    if question is None:
        return ""
    return "".join(_key(verdict, question, number, here, several=several) for number, verdict in enumerate(examined.keys, 1))


def _answer(examined: Examined, here: Here) -> str:
    shown = answers(examined, here)
    name = element("span", here.tell("Show the answer"), class_="ev-fold__title")
    return fold("answer", name, shown, kind="ev-answer") if shown else ""


def _drawn(examined: Examined, here: Here) -> str:
    """The function and its antiderivatives, or the area that is asked for: folded, since it gives away the shape of the answer."""
    if examined.drawing is None or examined.question is None:
        return ""
    summary = element("span", here.tell(SEEN[examined.question.kind]), class_="ev-fold__title")
    return fold("drawn", summary, plot(examined.question, examined.drawing, here), kind="ev-drawn")


def _key(verdict: KeyVerdict, question: Question, number: int, here: Here, *, several: bool) -> str:
    if verdict.tree is None:
        return ""
    vouched = ""
    if isinstance(verdict.outcome, Vouched):
        said = here.tell("{name} answers for this: {reason}", name=verdict.outcome.name, reason=verdict.outcome.reason)
        vouched = element("p", escape(said))
    label = here.tell("Answer {number}", number=number) if several else here.tell("The answer")
    remarks = "".join(element("p", escape(remark), class_="ev-quiet") for remark in of_answer(verdict.outcome, question, here))
    return scrolling(annotated("", verdict.tree, here), label) + (badge(verdict.outcome, here) if several else "") + vouched + remarks


def _solutions(examined: Examined, here: Here) -> list[str]:
    question = examined.question
    if question is None:
        return []
    times = film(examined.problem, here)
    hands = enumerate(examined.hand, 1)
    made = [written_out(hand.lines, question, number, here, times if number == 1 else ()) for number, hand in hands]
    routes = () if examined.derivation is None else examined.derivation.routes
    shown_first = "author-1" if made else next(iter(identities(routes)), "")
    return [
        *made,
        *worked(routes, here, () if made else times, examined.problem.level),
        no_help(examined, here),
        finish(examined.work, shown_first, here),
        find_slip(examined.work, here),
    ]


def _checks(examined: Examined, here: Here) -> list[str]:
    question = examined.question
    made = []
    key: Node | None = next((verdict.tree for verdict in examined.keys if verdict.tree is not None), None)
    if examined.checking and question is not None and key is not None:
        start = key if contains(key, Derivative) else Derivative(key, question.variable)
        looked = dict.fromkeys(said for verdict in examined.keys for said in of_check(verdict.outcome, question, here))
        made.append(checking(examined.checking, start, here, tuple(looked)))
    return made if examined.derivation is None else [*made, *brought_together(examined.derivation, here)]


def _contrasts(contrasts: Sequence[MadeContrast], here: Here) -> str:
    """The ways to the contrasts that this problem is in."""
    items = [element("li", element("a", escape(bare(made.source.title)), href=here.link(made.path), class_="ev-tag")) for made in contrasts]
    return (
        element("h2", here.tell("Set beside another"), class_="ev-folds-title") + element("ul", *items, class_="ev-tags") if items else ""
    )


def _tags(examined: Examined, here: Here) -> str:
    found = topics(examined)
    if not found:
        return ""
    items = [
        element("li", element("a", escape(method(topic, here.tell)), href=here.link(f"topics/{topic}.md"), class_="ev-tag"))
        for topic in found
    ]
    return element("h2", here.tell("More of the same kind"), class_="ev-folds-title") + element("ul", *items, class_="ev-tags")


def _credit(examined: Examined, here: Here) -> str:
    problem = examined.problem
    said = ((_BY, problem.author), (_SOURCE, problem.source), (_LICENCE, problem.license), (_VIDEO, problem.video))
    line = " · ".join(here.tell(label, it=_address(text.value)) for label, text in said if text is not None and text.value.strip())
    return element("p", line, class_="ev-credit") if line else ""


def _address(text: str) -> str:
    if re.fullmatch(r"https?://[^\s\"'<>]+", text):
        return element("a", escape(text), href=text, rel="noopener")
    return escape(text)


def _neighbours(spot: Spot, here: Here) -> str:
    made = [_neighbour("prev", here.tell("Previous"), spot.previous, here), _neighbour("next", here.tell("Next"), spot.next, here)]
    if not any(made):
        return ""
    return element("nav", *made, class_="ev-neighbours", aria_label=here.tell("Neighbouring problems"), data_search_exclude=1)


def _neighbour(rel: str, way: str, examined: Examined | None, here: Here) -> str:
    if examined is None:
        return ""
    name = element("span", escape(title(examined, here.said)), class_="ev-neighbours__title")
    inside = element("span", way, class_="ev-neighbours__way") + name
    return element("a", inside, href=here.link(examined.problem.path), class_=f"ev-neighbours__{rel}", rel=rel)
