"""The contrasts of a book: read, worked out in workers, and kept where neither they nor their problems changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from ..diagnostics import Diagnostic, diagnose
from ..diagnostics.kinds.internal import Internal
from ..diagnostics.kinds.out_of_time import OutOfTime
from ..source.load import Sources
from ..techniques import catalogue
from .composed import read_contrasts
from .contrast import Compared, ContrastJob
from .data import Book, Examined, MadeContrast
from .memory import Memory, digest
from .workers import Overrun

Work = Callable[[Sequence[ContrastJob]], Iterator[Compared | Overrun]]


def contrasts_of(
    sources: Sources, examined: Sequence[Examined], previous: Book | None, memory: Memory | None, work: Work, seconds: float
) -> tuple[tuple[MadeContrast, ...], list[Diagnostic]]:
    """Every contrast whose claim holds, in order of the files, and what is wrong with the others.

    `work` is given the jobs that are new, and `seconds` is the time that it allows for each.
    """
    jobs, faults = read_contrasts(sources, {e.problem.path: e for e in examined}, catalogue())
    names = {job.contrast.path: _name(job) for job in jobs}
    made = _unchanged(jobs, previous)
    made |= _recalled([job for job in jobs if job.contrast.path not in made], names, memory)
    fresh = [job for job in jobs if job.contrast.path not in made]
    done: dict[str, object] = {}
    for job, result in zip(fresh, work(fresh) if fresh else iter(()), strict=True):
        if isinstance(result, Overrun):
            faults.append(diagnose(_stopped(job, result, seconds)))
            continue
        faults += result.diagnostics
        if result.made is not None:
            made[job.contrast.path] = result.made
            done[names[job.contrast.path]] = result.made
    if memory is not None:
        memory.remember({name: thing for name, thing in done.items() if name})
    return tuple(made[job.contrast.path] for job in jobs if job.contrast.path in made), faults


def _unchanged(jobs: Sequence[ContrastJob], previous: Book | None) -> dict[str, MadeContrast]:
    before = {e.problem.path: e for e in previous.examined} if previous else {}
    old = {made.path: made for made in previous.contrasts} if previous else {}
    return {
        job.contrast.path: old[job.contrast.path]
        for job in jobs
        if job.contrast.path in old
        and old[job.contrast.path].source == job.contrast
        and all(before.get(e.problem.path) is e for e in job.examined)
    }


def _recalled(jobs: Sequence[ContrastJob], names: dict[str, str], memory: Memory | None) -> dict[str, MadeContrast]:
    found = {} if memory is None else memory.recalled(name for job in jobs if (name := names[job.contrast.path]))
    kept = {job.contrast.path: found.get(names[job.contrast.path]) for job in jobs}
    sources = {job.contrast.path: job.contrast for job in jobs}
    return {path: each for path, each in kept.items() if isinstance(each, MadeContrast) and each.source == sources[path]}


def _name(job: ContrastJob) -> str:
    """A digest of what a contrast depends on: its file, and the examinations of its problems by their own names."""
    inner = tuple(e.name for e in job.examined)
    return digest(("contrast", job.contrast, inner)) if all(inner) else ""


def _stopped(job: ContrastJob, overrun: Overrun, seconds: float) -> Internal | OutOfTime:
    if overrun.what in ("fault", "crash"):
        return Internal(job.contrast.place, overrun.detail or "the process ended")
    return OutOfTime(job.contrast.place, seconds, overrun.what)
