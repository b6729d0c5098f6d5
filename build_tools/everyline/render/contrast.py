"""Contrasts as pages: the prompt first, the answer in a fold, then the solutions side by side, one above the other on a phone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..book.data import Book, Examined, Failure, MadeContrast, Side
from ..derive.route import Line, Reconciliation
from ..notation import message
from ..source.contrasts import TWO_METHODS
from .addresses import Here
from .formulas import conditions, sentence, wide
from .lists import card, cards
from .markup import bare, element, escape, fold, heading
from .problem_page import ASKS, title
from .prose import inline, prose
from .solutions import Named, constant, line_list, method

CONTRASTS = "contrasts/index.md"
TITLE = message.sentence("Contrasts")
_LETTERS = "ABC"
_PROMPTS = {
    TWO_METHODS: message.sentence("Work it in both ways before you look. Which way is shorter, and how can you tell beforehand?"),
    "look-alikes": message.sentence("Which method does each of these need, and what tells you so?"),
}


def contrast_body(made: MadeContrast, known: Mapping[str, Examined], here: Here) -> str:
    """One contrast: the questions, the prompt, the answer folded, the solutions line by line."""
    source = made.source
    parts = (
        element("p", element("a", here.tell("All contrasts"), href=here.link(CONTRASTS)), class_="ev-path", data_search_exclude=1),
        heading(inline(source.title, here)),
        element("section", *_inside(made, known, here), data_search_exclude=1),
    )
    return element("div", *parts, class_="ev-problem ev-contrast")


def _inside(made: MadeContrast, known: Mapping[str, Examined], here: Here) -> list[str]:
    source = made.source
    if not made.sides:
        return [element("p", here.tell("This contrast will be here when the answers to its problems are."), class_="ev-withheld")]
    return [
        _questions(made, here),
        element(
            "p", inline(source.prompt, here) if source.prompt else escape(here.tell(_PROMPTS[source.kind])), class_="ev-contrast__prompt"
        ),
        element("div", prose(source.prose, here), class_="ev-prose") if source.prose.strip() else "",
        element(
            "div",
            fold("answer", element("span", here.tell("Show the answer"), class_="ev-fold__title"), *_answer(made, here), kind="ev-answer"),
            fold(
                "side-by-side", element("span", here.tell("Line by line"), class_="ev-fold__title"), *_columns(made, here), kind="ev-beside"
            ),
            class_="ev-folds",
        ),
        _problems(made, known, here),
    ]


def _questions(made: MadeContrast, here: Here) -> str:
    single = made.source.kind == TWO_METHODS
    shown = [_question(side, "" if single else letter, here) for side, letter in zip(made.sides, _LETTERS, strict=False)]
    return element("div", *(shown[:1] if single else shown), class_=f"ev-pair ev-pair--{1 if single else len(shown)}")


def _question(side: Side, letter: str, here: Here) -> str:
    where = conditions(side.question, here)
    name = here.tell("Question {number}", number=letter) if letter else here.tell("Question")
    return element(
        "div",
        element("h2", letter, class_="ev-pair__name") if letter else "",
        element("p", here.tell(ASKS[side.question.kind]), class_="ev-question__ask"),
        wide(side.question.node, name, here),
        element("p", where, class_="ev-question__where") if where else "",
        class_="ev-question",
    )


def _answer(made: MadeContrast, here: Here) -> list[str]:
    parts = [element("p", inline(made.source.point, here), class_="ev-contrast__point")]
    alike = [sentence(message, here) for message in (*made.shared, *((made.differs,) if made.differs else ()))]
    parts += [element("p", " ".join(alike))] if alike else []
    if made.source.kind != TWO_METHODS:
        names = {side.path: letter for side, letter in zip(made.sides, _LETTERS, strict=False)}
        chosen = [element("li", f"{names[side.path]}: {escape(method(side.method, here.tell))}") for side in made.sides]
        parts.append(element("ul", *chosen, class_="ev-contrast__methods"))
        parts += [_failed(failure, names, here) for failure in made.failures]
    if made.same:
        parts.append(element("p", here.tell("Both methods end in the same answer.")))
    return parts + [_between(pair, here) for pair in made.between]


def _failed(failure: Failure, names: Mapping[str, str], here: Here) -> str:
    asked = here.tell("{method} in {letter}?", method=escape(method(failure.method, here.tell)), letter=names[failure.path])
    return element("p", asked, " ", sentence(failure.reason, here))


def _between(pair: Reconciliation, here: Here) -> str:
    """What is between the two answers to one question."""
    said = " ".join(constant(where, value, here) for where, value in pair.constants)
    return element("p", here.tell("Both answers are right."), " ", said)


def _columns(made: MadeContrast, here: Here) -> list[str]:
    """The solutions with lines that do the same in one row. In the page's own order one solution follows the other."""
    columns = [_column(made, number, here) for number in range(len(made.sides))]
    return [_parting(made, here), element("div", *columns, class_=f"ev-beside__columns ev-beside__columns--{len(columns)}")]


def _column(made: MadeContrast, number: int, here: Here) -> str:
    side = made.sides[number]
    name = method(side.method, here.tell)
    label = name if made.source.kind == TWO_METHODS else f"{_LETTERS[number]}: {name}"
    lines: list[Line | None] = [row[number] for row in made.rows]
    group = Named(f"side-{number + 1}", label)
    head = element("h3", escape(label), id=f"side-{number + 1}")
    return element("section", head, line_list(lines, side.question.node, group, here), class_="ev-beside__column")


def _parting(made: MadeContrast, here: Here) -> str:
    """The row in which the solutions begin to do different things, and what each does there."""
    if made.parting >= len(made.rows):
        return ""
    begun = here.tell("They part at the first step." if made.parting == 0 else "They part at line {number}.", number=made.parting + 1)
    nexts = [next((row[n] for row in made.rows[made.parting :] if row[n] is not None), None) for n in range(len(made.sides))]
    said = [
        f"{_name(made, n, here)}: {sentence(line.reason, here)}" for n, line in enumerate(nexts) if line is not None and line.reason.text
    ]
    return element("p", begun) + (element("ul", *(element("li", each) for each in said)) if len(said) > 1 else "")


def _name(made: MadeContrast, number: int, here: Here) -> str:
    return escape(method(made.sides[number].method, here.tell)) if made.source.kind == TWO_METHODS else _LETTERS[number]


def _problems(made: MadeContrast, known: Mapping[str, Examined], here: Here) -> str:
    pages = list(dict.fromkeys(side.path for side in made.sides))
    items = [element("li", element("a", escape(title(known[page], here.said)), href=here.link(page))) for page in pages if page in known]
    name = here.tell("The problems" if len(items) > 1 else "The problem")
    return element("h2", name, class_="ev-folds-title") + element("ul", *items)


def contrasts_body(book: Book, here: Here) -> str:
    """Every contrast as a card: look-alikes first, then questions with two methods."""
    parts = []
    for kind, name in (("look-alikes", here.tell("They look alike")), (TWO_METHODS, here.tell("One question, two methods"))):
        shown = [made for made in book.contrasts if made.source.kind == kind]
        if shown:
            parts += [element("h2", name), cards(*(_card(made, here) for made in shown))]
    return element("section", *parts, data_search_exclude=1)


def _card(made: MadeContrast, here: Here) -> str:
    return card(here.link(made.path), bare(made.source.title), "", _note(made, here))


def _note(made: MadeContrast, here: Here) -> str:
    if made.source.kind == TWO_METHODS:
        return here.tell("one question")
    return here.tell("three questions" if len(made.source.problems) == 3 else "two questions")


def chapter_contrasts(contrasts: Sequence[MadeContrast], here: Here) -> str:
    """The contrasts that a chapter's page lists; empty where there are none."""
    if not contrasts:
        return ""
    items = [element("li", element("a", escape(bare(made.source.title)), href=here.link(made.path))) for made in contrasts]
    return element("section", element("h2", here.tell(TITLE)), element("ul", *items), data_search_exclude=1)
