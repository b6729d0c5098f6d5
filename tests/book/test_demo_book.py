"""The demo book: every key stands, and every wrong key that is made from it falls. Its data is invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from everyline.book.assembly import _read
from everyline.book.examination import pose
from everyline.book.families import assumed
from everyline.book.keys import judge, judge_tree, key_context
from everyline.book.lessons import lesson_faults
from everyline.kernel import Checked, Refuted
from everyline.notation.build import without_constant
from everyline.notation.question import Question
from everyline.slips import corruptions
from everyline.source.contrasts import LOOK_ALIKES, TWO_METHODS, read_contrast
from everyline.source.lessons import read_lesson
from everyline.source.load import load
from everyline.source.problem import Problem
from everyline.source.sets import read_set

READ = _read(load(Path(__file__).resolve().parents[2] / "content"))


@pytest.mark.parametrize("problem", READ.problems, ids=lambda problem: problem.path)
def test_ten_corruptions_of_a_key_are_refuted(problem: Problem) -> None:
    question = pose(problem, READ.conventions, assumed(problem, READ.conventions))
    assert isinstance(question, Question)
    context = key_context(question, READ.conventions.log, READ.conventions.decimal)
    right = judge(question, problem.keys[0].value, context)
    assert isinstance(right.outcome, Checked)
    wrong = corruptions(right.tree, question.variable)
    assert len(set(wrong)) >= 10 or _bare(right.tree), len(wrong)
    for key in wrong:
        assert isinstance(judge_tree(question, key), Refuted), key


def _bare(tree: object) -> bool:
    """A key that is a single number or letter: fewer different mistakes can be made in it."""
    from everyline.notation.build import size

    return size(without_constant(tree)) <= 2  # type: ignore[arg-type]


def test_the_book_has_families_and_contrasts_enough() -> None:
    """Issue 8: at least 12 families over the chapters, 24 contrasts, half of them of one question by two methods."""
    families = [problem for problem in READ.problems if problem.vary is not None]
    assert len(families) >= 12
    assert {problem.chapter for problem in families} == {chapter.folder for chapter in READ.chapters}
    folder = Path(__file__).resolve().parents[2] / "content" / "contrasts"
    read = [read_contrast(f"contrasts/{file.name}", file.read_bytes()) for file in sorted(folder.glob("*.md")) if file.name != "index.md"]
    assert all(not each.faults for each in read)
    kinds = [each.contrast.kind for each in read if each.contrast is not None]
    assert len(kinds) >= 24
    assert min(kinds.count(kind) for kind in (TWO_METHODS, LOOK_ALIKES)) >= 12


def test_the_book_has_its_sets_and_lessons_and_every_page_that_they_name() -> None:
    """The counts of the issue: 8 mixed sets, 6 lessons; every step of a lesson leads to a page and the minutes add up."""
    sources = load(Path(__file__).resolve().parents[2] / "content")
    sets = [read_set(path, data).found for path, data in sources.composed_in("sets").items()]
    lessons = [read_lesson(path, data).lesson for path, data in sources.composed_in("lessons").items()]
    assert len([made for made in sets if made is not None and made.mixed]) == len(sets) >= 8
    assert len(lessons) >= 6
    pages = {f"{kind}": sources.composed_in(f"{kind}s").keys() for kind in ("contrast", "set")} | {"problem": sources.problems.keys()}
    for lesson in lessons:
        assert lesson is not None
        assert lesson.minutes
        assert lesson_faults(lesson, pages) == ()
        assert all(step.predict or step.say for step in lesson.steps)
