"""Pages that a teacher composes: sets, dealt one problem at a time, and the students' part of lessons."""

from __future__ import annotations

from collections.abc import Mapping

from ..book.data import Book, Examined, MadeSet
from ..book.lessons import target_path
from ..notation.message import sentence
from ..source.lessons import Lesson, Prose, Step
from ..source.paths import page_name, spelt_out
from .addresses import Here
from .box import box
from .formulas import conditions, wide
from .lists import card, cards, count, share
from .markup import bare, element, escape, fold, heading
from .problem_page import ASKS, answers, level, title
from .prose import inline, prose
from .released import not_yet

SETS, LESSONS = "sets/index.md", "lessons/index.md"
_RULE = sentence("Neighbours in this set never begin with the same method. Titles are left out, because they could give the method away.")
#: What the step of a lesson leads to.
_TARGETS = {"problem": sentence("Problem: {name}"), "set": sentence("Set: {name}"), "contrast": sentence("Contrast: {name}")}


def set_body(made: MadeSet, book: Book, here: Here, printed: str = "") -> str:
    """A set: its questions without their titles, each with its answer in a fold and the way to its page; then the ways to its sheets."""
    known = {examined.problem.path: examined for examined in book.examined}
    chapters = {chapter.folder: chapter.title for chapter in book.chapters}
    shown = [known[path] for path in made.problems]
    dealt = [_dealt(n, each, chapters.get(each.problem.chapter, ""), here, len(shown)) for n, each in enumerate(shown, 1)]
    parts = (
        _back(here.tell("All sets"), SETS, here),
        heading(inline(made.source.title, here)),
        element("div", prose(made.source.prose, here), class_="ev-prose") if made.source.prose else "",
        element("p", here.tell(_RULE), class_="ev-quiet") if made.mixed else "",
        # The search must not tell what a question is hidden behind, and a question is found by its own page.
        element("section", element("ol", *dealt, class_="ev-deal", role="list", data_set=made.source.slug), data_search_exclude=1),
        printed,
    )
    return element("div", *parts, class_="ev-problem")


def _dealt(number: int, examined: Examined, chapter: str, here: Here, total: int) -> str:
    question = examined.question
    if question is None or not examined.sound:
        return element("li", element("p", here.tell("This problem needs mending.")), class_="ev-deal__card")
    where = conditions(question, here)
    name = here.tell("Show the answer")
    place = f"question-{number}"
    shown = answers(examined, here)
    parts = (
        element("h2", here.tell("Question {number} of {count}", number=number, count=total), id=place, class_="ev-deal__number"),
        element("p", here.tell(ASKS[question.kind]), class_="ev-question__ask"),
        wide(question.node, here.tell("Question {number}", number=number), here),
        element("p", where, class_="ev-question__where") if where else "",
        level(examined.problem.level, here),
        box(examined, here, number),
        fold(f"answer-{number}", element("span", name, class_="ev-fold__title"), shown, kind="ev-answer") if shown else "",
        not_yet(examined, here, number),
        _onward(here.tell("Hints and worked solutions"), examined.problem.path, here) if shown else "",
    )
    # What is tried here counts for the problem, and the list of what is due again leads to its own page.
    kept = {
        "data_problem": examined.problem.path,
        "data_title": title(examined, here.said),
        "data_address": here.addresses.of(examined.problem.path),
    }
    return element("li", *parts, class_="ev-deal__card ev-problem", aria_labelledby=place, data_chapter=chapter, **kept)


def sets_body(book: Book, here: Here) -> str:
    """Every set as a card, and the share of the book's practice that is mixed."""
    shown = (card(here.link(made.path), bare(made.source.title), _kind(made, here), count(len(made.problems), here)) for made in book.sets)
    return element("section", element("p", share(book, here)), cards(*shown), data_search_exclude=1)


def _kind(made: MadeSet, here: Here) -> str:
    return here.tell("Mixed" if made.mixed else "Practice")


def _onward(name: str, path: str, here: Here) -> str:
    """The way to another page, which paper leaves out."""
    return element("p", element("a", name, href=here.link(path)), class_="ev-onward")


def lesson_body(lesson: Lesson, book: Book, here: Here) -> str:
    """What the students see of a lesson: prose, questions, and what to predict before they work. Talking points stay with the teacher."""
    known = {e.problem.path: e for e in book.examined}
    parts = [
        _back(here.tell("All lessons"), LESSONS, here),
        heading(inline(lesson.title, here)),
        element("p", _minutes(lesson, here), class_="ev-quiet") if lesson.minutes else "",
    ]
    number = 0
    for item in lesson.items:
        if isinstance(item, Prose):
            parts.append(element("div", prose(item.text, here), class_="ev-prose"))
            continue
        number += item.kind != "talk"
        parts.append(_step(item, number, known, book, here))
    return element("div", *parts, class_="ev-problem")


def _step(step: Step, number: int, known: Mapping[str, Examined], book: Book, here: Here) -> str:
    predict = [element("li", inline(text.value, here)) for text in step.predict]
    asked = element("p", here.tell("Before you write:"), class_="ev-predict__title") + element("ul", *predict) if predict else ""
    predicted = element("div", asked, class_="ev-predict") if asked else ""
    if step.target is None:
        return predicted
    path = target_path(step.kind, step.target.value)
    examined = known.get(path) if step.kind == "problem" else None
    if examined is not None and examined.question is not None:
        where = conditions(examined.question, here)
        inside = [
            element("p", here.tell(ASKS[examined.question.kind]), class_="ev-question__ask"),
            wide(examined.question.node, here.tell("Step {number}", number=number), here),
            element("p", where, class_="ev-question__where") if where else "",
            predicted,
            _onward(here.tell("To the problem: answer, hints and worked solutions"), path, here),
        ]
    else:
        inside = [element("p", element("a", escape(_name(step.kind, path, book, here)), href=here.link(path))), predicted]
    return element("section", element("h2", f"{number}", class_="ev-step__number"), *inside, class_="ev-step", data_search_exclude=1)


def _name(kind: str, path: str, book: Book, here: Here) -> str:
    """What a set or a contrast is called."""
    titles = {made.path: made.source.title for made in book.sets} | {made.path: made.source.title for made in book.contrasts}
    named = titles.get(path, "") or spelt_out(page_name(path))
    return here.tell(_TARGETS[kind], name=bare(named))


def lessons_body(book: Book, here: Here) -> str:
    """Every lesson as a card."""
    shown = (card(here.link(lesson.path), bare(lesson.title), _minutes(lesson, here), _pages(lesson, here)) for lesson in book.lessons)
    return element("section", cards(*shown), data_search_exclude=1)


def _minutes(lesson: Lesson, here: Here) -> str:
    return here.tell("{count} minutes", count=lesson.minutes) if lesson.minutes else ""


def _pages(lesson: Lesson, here: Here) -> str:
    number = sum(step.target is not None for step in lesson.steps)
    return here.tell("{count} step" if number == 1 else "{count} steps", count=number)


def _back(name: str, path: str, here: Here) -> str:
    return element("p", element("a", name, href=here.link(path)), class_="ev-path", data_search_exclude=1)
