"""The teacher's private sheet of a lesson: timing, what to ask, what to say, keys and worked solutions."""

from __future__ import annotations

from collections.abc import Mapping

from ..book.data import Book, Examined, MadeContrast
from ..book.lessons import target_path
from ..book.sheets import as_asked
from ..source.lessons import Lesson, Prose, Step
from .errata import edition
from .markup import bare
from .paper.model import Block, Bold, Document, Heading, Maths, Paragraph, Title, paragraphs, printed, words, words_of
from .problem_page import title
from .sheet import answer, working
from .solutions import method

_LETTERS = "ABC"


def crib(lesson: Lesson, book: Book) -> Document:
    """The lesson for its teacher, in its order."""
    known = {examined.problem.path: examined for examined in book.examined}
    below = f"For the teacher. {lesson.minutes} minutes." if lesson.minutes else "For the teacher."
    blocks: list[Block] = [Title(bare(lesson.title), (below,))]
    clock, number = 0, 0
    for item in lesson.items:
        if isinstance(item, Prose):
            blocks += paragraphs(item.text)
            continue
        number += item.kind == "problem"
        blocks += _step(item, number, clock, known, book)
        clock += item.minutes
    said = (book.conventions.title, edition(book), book.conventions.license)
    return Document(f"{bare(lesson.title)}: crib", tuple(blocks), " · ".join(filter(None, said)), "", book.conventions.language)


def _step(step: Step, number: int, clock: int, known: Mapping[str, Examined], book: Book) -> list[Block]:
    path = "" if step.target is None else target_path(step.kind, step.target.value)
    time = f"{clock}–{clock + step.minutes} min: " if step.minutes else ""
    made: list[Block] = [Heading((f"{time}{_name(step, path, known, book)}",))]
    made += [Paragraph(words(text.value), "predict") for text in step.predict]
    made += [Paragraph(words(text.value), "say") for text in step.say]
    if step.kind == "problem" and path in known:
        examined = known[path]
        hints = [Paragraph(("Hint: ", *words(text.value)), "small") for text in examined.problem.hints]
        return [*made, *hints, *answer(as_asked(examined), number, "full")]
    for each in (each for each in book.sets if each.path == path):
        for place, inside in enumerate(each.problems, 1):
            made += answer(as_asked(known[inside]), place, "short")
    for found in (found for found in book.contrasts if found.path == path):
        made += _contrast(found)
    return made


def _contrast(made: MadeContrast) -> list[Block]:
    """The point of a contrast, each solution, and why the method of one does not carry over."""
    blocks: list[Block] = [Paragraph(words(made.source.point))]
    for number, side in enumerate(made.sides):
        lines = [row[number] for row in made.rows]
        blocks.append(Paragraph((Bold(f"{_LETTERS[number]}: {method(side.method)}"), " ", Maths(side.question.node))))
        blocks.append(working("", [line for line in lines if line is not None]))
    names = {side.path: _LETTERS[number] for number, side in enumerate(made.sides)}
    for failure in made.failures:
        blocks.append(Paragraph((f"{method(failure.method)} in {names[failure.path]}? ", *words_of(failure.reason))))
    return blocks


def _name(step: Step, path: str, known: Mapping[str, Examined], book: Book) -> str:
    if step.kind == "talk":
        return "Talk"
    if path in known:
        return printed(title(known[path]))
    named = {made.path: made.source.title for made in book.sets} | {made.path: made.source.title for made in book.contrasts}
    return printed(f"{step.kind.capitalize()}: {bare(named.get(path, path))}")
