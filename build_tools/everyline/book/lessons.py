"""The lessons of a book: that every page they name is there, and that their minutes add up."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from ..diagnostics import Diagnostic, diagnose
from ..diagnostics.kind import Fact
from ..diagnostics.kinds.lesson_minutes import LessonMinutes
from ..source.lessons import Lesson
from ..source.paths import page_path
from .sets import missing_page


def lesson_faults(lesson: Lesson, pages: Mapping[str, Collection[str]]) -> tuple[Diagnostic, ...]:
    """What is wrong with a lesson in its book. `pages` are the paths of the book's pages for each kind of step."""
    facts: list[Fact] = []
    for step in lesson.steps:
        if step.target is not None and target_path(step.kind, step.target.value) not in pages[step.kind]:
            facts.append(missing_page(step.target, list(pages[step.kind]), step.kind))
    total = sum(step.minutes for step in lesson.steps)
    if lesson.minutes and lesson.minutes != total:
        facts.append(LessonMinutes(lesson.place, lesson.minutes, total))
    return tuple(diagnose(fact) for fact in facts)


def target_path(kind: str, target: str) -> str:
    """The path of the page that a step names: contrasts and sets may go without their folder."""
    path = page_path(target)
    folder = f"{kind}s/"
    return path if kind == "problem" or path.startswith(folder) else folder + path
