"""What a teacher composes from problems: the sets and lessons of a book, read and judged."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from ..diagnostics import Diagnostic, diagnose
from ..source.contrasts import read_contrast
from ..source.lessons import Lesson, read_lesson
from ..source.load import INDEX, Sources
from ..source.paths import page_path
from ..source.problem import Conventions
from ..source.sets import read_set
from ..source.span import Text
from .contrast import ContrastJob
from .data import Examined, MadeSet
from .lessons import lesson_faults
from .sets import make_set, missing_page


@dataclass(frozen=True, slots=True)
class Composed:
    """Sets and lessons in order of their paths, and everything that is wrong with them."""

    sets: tuple[MadeSet, ...]
    lessons: tuple[Lesson, ...]
    diagnostics: tuple[Diagnostic, ...]


def compose(sources: Sources, chapters: Sequence[str], examined: Sequence[Examined], techniques: Collection[str]) -> Composed:
    """The sets and lessons of a book whose problems were examined. `chapters` are the folders of its chapters in teaching order."""
    faults: list[Diagnostic] = []
    sets: list[MadeSet] = []
    for path, data in _written(sources, "sets"):
        read = read_set(path, data, techniques)
        faults += [diagnose(fault) for fault in read.faults]
        if read.found is not None:
            made, wrong = make_set(read.found, examined, chapters)
            faults += wrong
            sets += [made] if made is not None else []
    # A page that is there and has faults of its own is no missing page: so paths of files, not of what could be made of them.
    pages: dict[str, Collection[str]] = {folder: sources.composed_in(f"{folder}s").keys() for folder in ("contrast", "set")}
    pages["problem"] = sources.problems.keys()
    lessons: list[Lesson] = []
    for path, data in _written(sources, "lessons"):
        found = read_lesson(path, data)
        faults += [diagnose(fault) for fault in found.faults]
        if found.lesson is not None:
            faults += lesson_faults(found.lesson, pages)
            lessons.append(found.lesson)
    return Composed(tuple(sets), tuple(lessons), tuple(faults))


def read_contrasts(
    sources: Sources, examined: Mapping[str, Examined], techniques: Collection[str]
) -> tuple[list[ContrastJob], list[Diagnostic]]:
    """The contrasts that can be worked out, and what is wrong with the files of those that cannot."""
    faults: list[Diagnostic] = []
    found: list[ContrastJob] = []
    for path, data in _written(sources, "contrasts"):
        read = read_contrast(path, data, techniques)
        faults += [diagnose(fault) for fault in read.faults]
        if read.contrast is None:
            continue
        missing = [text for text in read.contrast.problems if page_path(text.value) not in sources.problems]
        faults += [diagnose(missing_page(text, list(sources.problems))) for text in missing]
        if all(page in examined for page in read.contrast.pages):
            found.append(ContrastJob(read.contrast, tuple(examined[page] for page in read.contrast.pages)))
    return found, faults


def errata_faults(conventions: Conventions, sources: Sources) -> tuple[Diagnostic, ...]:
    """Errata about pages that the book does not have."""
    known = [*sources.problems, *sources.chapters, *sources.composed]
    named = ((erratum, Text(erratum.page.removesuffix(".md"), erratum.place)) for erratum in conventions.errata)
    return tuple(diagnose(missing_page(page, known, "page")) for erratum, page in named if erratum.page not in known)


def _written(sources: Sources, folder: str) -> list[tuple[str, bytes]]:
    """The files of a folder but for its `index.md`, which is the author's own page before the list."""
    return [(path, data) for path, data in sources.composed_in(folder).items() if path != f"{folder}/{INDEX}"]
