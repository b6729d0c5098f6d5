"""From the sources of a book to the book: one pure function, and one that reads the sources first."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from pathlib import Path

from ..diagnostics import Diagnostic, diagnose, in_order
from ..diagnostics.kinds.internal import Internal
from ..diagnostics.kinds.out_of_time import OutOfTime
from ..diagnostics.kinds.technique_unused import UnusedTechnique
from ..source.load import BOOK_FILE, Sources, load
from ..source.problem import Chapter, Conventions, Problem
from ..source.reading import read_chapter, read_conventions, read_problem
from ..techniques import catalogue
from .composed import compose, errata_faults
from .contrast import compare
from .contrasts import contrasts_of
from .data import Book, Examined
from .elsewhere import run_on
from .examination import Job, examine
from .memory import Memory
from .memory import name as name_of
from .workers import Limits, Overrun, run

#: How many new examinations are kept together: what a killed run may lose.
_AT_ONCE = 50


@dataclass(frozen=True, slots=True)
class _Read:
    conventions: Conventions
    chapters: tuple[Chapter, ...]
    problems: tuple[Problem, ...]
    diagnostics: tuple[Diagnostic, ...]


def build(
    sources: Sources,
    *,
    workers: int = 1,
    limits: Limits | None = None,
    previous: Book | None = None,
    only: Iterable[str] | None = None,
    memory: Memory | None = None,
    progress: Callable[[int, int], object] = lambda done, of: None,
    executor: Executor | None = None,
) -> Book:
    """The book that the sources make: every key judged, every line checked, every fault collected.

    `previous` is a book built before: problems that did not change, in the same conventions and with the same taught techniques,
    are taken from it. `only` restricts the examination to some paths; a set or a lesson among them needs every problem. `memory` is
    where examinations of earlier runs are kept, and these will be. `progress` is told how many are done, and of how many.
    `executor` does the work in place of processes of our own.
    """
    limits = limits or Limits()
    read = _read(sources)
    wanted = None if only is None else frozenset(only)
    whole = wanted is None or not wanted.isdisjoint(sources.composed)
    problems = [p for p in read.problems if whole or p.path in (wanted or ())]
    jobs = [Job(problem, read.conventions, taught(read.chapters, problem.chapter)) for problem in problems]
    work = functools.partial(run, examine, workers=workers, limits=limits)
    if executor is not None:
        work = functools.partial(run_on, executor, examine, limits=limits)
    examined = _examined(jobs, sources, previous, memory, work, progress, limits)
    faults = [*read.diagnostics, *(d for e in examined for d in e.diagnostics)]
    shown = sources if whole else Sources({}, {})
    composed = compose(shown, [c.folder for c in read.chapters], examined, catalogue())
    comparing = functools.partial(run, compare, workers=workers, limits=limits)
    contrasts, wrong = contrasts_of(shown, examined, previous, memory, comparing, limits.seconds)
    faults += [*composed.diagnostics, *wrong, *errata_faults(read.conventions, sources)]
    if wanted is None:
        faults += _unused(read.chapters, examined)
    else:
        faults = [d for d in faults if not d.labels or d.labels[0].span.path in wanted]
    return Book(read.conventions, read.chapters, tuple(examined), in_order(faults), composed.sets, composed.lessons, contrasts)


def read_and_build(content: Path, *, workers: int = 1, previous: Book | None = None, memory: Memory | None = None) -> tuple[Book, Sources]:
    """The book in a content folder, and its sources (for the excerpts of error messages)."""
    sources = load(content)
    return build(sources, workers=workers, previous=previous, memory=memory), sources


def listed(sources: Sources) -> tuple[Conventions, tuple[Chapter, ...], tuple[Problem, ...]]:
    """The conventions, the chapters in teaching order and the problems in the order of the pages, nothing of them examined."""
    read = _read(sources)
    return read.conventions, read.chapters, read.problems


def taught(chapters: Sequence[Chapter], folder: str) -> frozenset[str] | None:
    """The techniques that a chapter and those before it introduce; None where the book does not say."""
    here = next((c for c in chapters if c.folder == folder), None)
    if here is None or not any(c.introduces for c in chapters):
        return None
    upto = chapters[: chapters.index(here) + 1]
    return frozenset(name.value for chapter in upto for name in chapter.introduces)


#: A file that is read again after a save is mostly one that did not change. Held: as many files as a very large book has.
_problem = functools.lru_cache(maxsize=20_000)(read_problem)


def _read(sources: Sources) -> _Read:
    known = frozenset(catalogue())
    conventions = read_conventions(BOOK_FILE, sources.conventions or b"")
    chapters = [read_chapter(path, data, known) for path, data in sources.chapters.items()]
    problems = [_problem(path, data, known) for path, data in sources.problems.items()]
    faults = [*sources.faults, *conventions.faults, *(f for c in chapters for f in c.faults), *(f for p in problems for f in p.faults)]
    in_teaching_order = sorted((r.chapter for r in chapters if r.chapter), key=lambda c: (c.order, c.folder))
    position = {chapter.folder: n for n, chapter in enumerate(in_teaching_order)}
    found = [r.problem for r in problems if r.problem]
    found.sort(key=lambda p: (position.get(p.chapter, len(position)), p.level, p.path))
    return _Read(conventions.conventions, tuple(in_teaching_order), tuple(found), tuple(diagnose(f) for f in faults))


def _examined(
    jobs: Sequence[Job],
    sources: Sources,
    previous: Book | None,
    memory: Memory | None,
    work: Callable[[Sequence[Job]], Iterator[Examined | Overrun]],
    progress: Callable[[int, int], object],
    limits: Limits,
) -> list[Examined]:
    """The jobs' examinations, in order: those of the previous book, those that were kept, and the others made now."""
    made = _unchanged(jobs, previous)
    names = {job.problem.path: name_of(job, sources.data(job.problem.path)) for job in jobs if job.problem.path not in made}
    if memory is not None:
        kept = memory.examined({names[job.problem.path]: job for job in jobs if names.get(job.problem.path)})
        made |= {path: kept[name] for path, name in names.items() if name in kept}
    fresh = [job for job in jobs if job.problem.path not in made]
    unkept: list[Examined] = []
    for job, result in zip(fresh, work(fresh) if fresh else (), strict=True):
        found = replace(_or_overrun(job, result, limits), name=names[job.problem.path])
        made[job.problem.path] = found
        unkept.append(found)
        progress(len(made), len(jobs))
        if memory is not None and (len(unkept) >= _AT_ONCE or job is fresh[-1]):
            memory.keep(unkept)
            unkept = []
    return [made[job.problem.path] for job in jobs]


def _unchanged(jobs: Sequence[Job], previous: Book | None) -> dict[str, Examined]:
    if previous is None:
        return {}
    old = {e.problem.path: e for e in previous.examined}
    same = [job for job in jobs if job.problem.path in old and old[job.problem.path].file == job.problem]
    return {
        job.problem.path: old[job.problem.path]
        for job in same
        if job.conventions == previous.conventions and job.taught == taught(previous.chapters, job.problem.chapter)
    }


def _or_overrun(job: Job, result: Examined | Overrun, limits: Limits) -> Examined:
    if isinstance(result, Examined):
        return result
    place = job.problem.question.span
    broken = result.what in ("fault", "crash")
    fact = Internal(place, result.detail or "the process ended") if broken else OutOfTime(place, limits.seconds, result.what)
    return Examined(job.problem, None, diagnostics=(diagnose(fact),), seconds=limits.seconds)


def _unused(chapters: Iterable[Chapter], examined: Iterable[Examined]) -> list[Diagnostic]:
    """A technique that a chapter introduces and none of its problems uses."""
    used: dict[str, set[str]] = {}
    for each in examined:
        used.setdefault(each.problem.chapter, set()).update(each.used)
    return [
        diagnose(UnusedTechnique(name.span, name.value))
        for chapter in chapters
        if used.get(chapter.folder)
        for name in chapter.introduces
        if name.value not in used[chapter.folder]
    ]
