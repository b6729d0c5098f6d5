"""The teacher's private sheet of a lesson: timing, what to ask, what to say, keys and worked solutions."""

from __future__ import annotations

from collections.abc import Mapping

from ..book.data import Book, Examined, MadeContrast
from ..book.lessons import target_path
from ..book.sheets import as_asked
from ..language import translator
from ..notation import spoken
from ..notation.message import Translate, sentence
from ..source.lessons import Lesson, Prose, Step
from .errata import edition
from .markup import bare
from .paper.model import Block, Bold, Document, Heading, Maths, Paragraph, Title, filled, paragraphs, printed, words, words_of
from .problem_page import title
from .sheet import answer, working
from .solutions import method

_LETTERS = "ABC"
#: What stands before the title of a step, by its kind.
_NAMED = {"set": sentence("Set: {name}"), "contrast": sentence("Contrast: {name}"), "problem": sentence("Problem: {name}")}


def crib(lesson: Lesson, book: Book) -> Document:
    """The lesson for its teacher, in its order."""
    known = {examined.problem.path: examined for examined in book.examined}
    tell = translator(book.conventions.language)
    below = tell("For the teacher. {minutes} minutes." if lesson.minutes else "For the teacher.").format(minutes=lesson.minutes)
    blocks: list[Block] = [Title(bare(lesson.title), (below,))]
    clock, number = 0, 0
    for item in lesson.items:
        if isinstance(item, Prose):
            blocks += paragraphs(item.text)
            continue
        number += item.kind == "problem"
        blocks += _step(item, number, clock, known, book, tell)
        clock += item.minutes
    said = (book.conventions.title, edition(book), book.conventions.license)
    name = tell("{title}: crib").format(title=bare(lesson.title))
    return Document(name, tuple(blocks), " · ".join(filter(None, said)), "", book.conventions.language)


def _step(step: Step, number: int, clock: int, known: Mapping[str, Examined], book: Book, tell: Translate) -> list[Block]:
    path = "" if step.target is None else target_path(step.kind, step.target.value)
    time = f"{clock}–{clock + step.minutes} min: " if step.minutes else ""
    made: list[Block] = [Heading((f"{time}{_name(step, path, known, book, tell)}",))]
    made += [Paragraph(words(text.value), "predict") for text in step.predict]
    made += [Paragraph(words(text.value), "say") for text in step.say]
    if step.kind == "problem" and path in known:
        examined = known[path]
        hints = [Paragraph(filled(tell("Hint: {hint}"), hint=words(text.value)), "small") for text in examined.problem.hints]
        return [*made, *hints, *answer(as_asked(examined), number, "full", tell)]
    for each in (each for each in book.sets if each.path == path):
        for place, inside in enumerate(each.problems, 1):
            made += answer(as_asked(known[inside]), place, "short", tell)
    for found in (found for found in book.contrasts if found.path == path):
        made += _contrast(found, tell)
    return made


def _contrast(made: MadeContrast, tell: Translate) -> list[Block]:
    """The point of a contrast, each solution, and why the method of one does not carry over."""
    blocks: list[Block] = [Paragraph(words(made.source.point))]
    for number, side in enumerate(made.sides):
        lines = [row[number] for row in made.rows]
        blocks.append(Paragraph((Bold(f"{_LETTERS[number]}: {method(side.method, tell)}"), " ", Maths(side.question.node))))
        blocks.append(working("", [line for line in lines if line is not None], tell))
    names = {side.path: _LETTERS[number] for number, side in enumerate(made.sides)}
    for failure in made.failures:
        asked = tell("{method} in {letter}?").format(method=method(failure.method, tell), letter=names[failure.path])
        blocks.append(Paragraph((f"{asked} ", *words_of(failure.reason, tell))))
    return blocks


def _name(step: Step, path: str, known: Mapping[str, Examined], book: Book, tell: Translate) -> str:
    if step.kind == "talk":
        return tell("Talk")
    if path in known:
        return printed(title(known[path], spoken(tell)))
    named = {made.path: made.source.title for made in book.sets} | {made.path: made.source.title for made in book.contrasts}
    return printed(tell(_NAMED[step.kind]).format(name=bare(named.get(path, path))))
