"""What a book has and lacks, for its teacher: counted from the book alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ..derive import untaught
from ..diagnostics.kinds.needs_untaught import KIND as NEEDS_UNTAUGHT
from ..kernel import Checked, Undecided
from ..notation import plain
from ..notation.message import Message, fill, say, sentence
from ..techniques import catalogue
from .assembly import taught
from .data import Book, Examined, Outcome, Vouched
from .likeness import near_duplicates
from .sets import interleaved_share
from .words import agreeing, undecided, verdict

LEVELS = (1, 2, 3)
VERDICTS = ("proved", "enclosed", "undecided", "refuted")


@dataclass(frozen=True, slots=True)
class Covered:
    """How many problems of a chapter and a level use a technique in a worked solution."""

    chapter: str
    technique: str
    level: int
    count: int


@dataclass(frozen=True, slots=True)
class Gap:
    """A technique that a chapter introduces, and the levels at which none of its problems uses it."""

    chapter: str
    technique: str
    levels: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Report:
    """The whole report.

    `verdicts` counts problems by their weakest key, without those that are withheld; `interleaved_share` is between 0 and 1.

    `near_duplicates` are (path, path, how they differ); `untaught` (path, techniques); `unproved` (path, what was found instead);
    `missing` (path, what is not said: `source`, `license`); `seconds` (path, how long it took), the longest first; `unused` the
    techniques that no worked solution of the book uses.
    """

    problems: int
    families: int
    contrasts: int
    sets: int
    lessons: int
    verdicts: tuple[tuple[str, int], ...]
    interleaved_share: float
    near_duplicates: tuple[tuple[str, str, Message], ...]
    coverage: tuple[Covered, ...]
    gaps: tuple[Gap, ...]
    unused: tuple[str, ...]
    untaught: tuple[tuple[str, tuple[str, ...]], ...]
    unproved: tuple[tuple[str, Message], ...]
    missing: tuple[tuple[str, tuple[str, ...]], ...]
    seconds: tuple[tuple[str, float], ...]

    def as_data(self) -> dict[str, Any]:
        """What `everyline report --format json` prints."""
        return {
            "problems": self.problems,
            "families": self.families,
            "contrasts": self.contrasts,
            "sets": self.sets,
            "lessons": self.lessons,
            "verdicts": dict(self.verdicts),
            "interleaved_share": round(self.interleaved_share, 4),
            "near_duplicates": [[first, second, fill(why, plain)] for first, second, why in self.near_duplicates],
            "coverage": [{"chapter": c.chapter, "technique": c.technique, "level": c.level, "count": c.count} for c in self.coverage],
            "untaught": [path for path, _ in self.untaught],
            "missing_source": [path for path, _ in self.missing],
        }


def report(book: Book) -> Report:
    """Everything that can be counted of a book. Pure."""
    verdicts = Counter(_verdict(each) for each in book.examined if each.withheld is None)
    coverage = tuple(_coverage(book))
    used = {name for each in book.examined for name in each.used}
    return Report(
        problems=len(book.examined),
        families=sum(each.file.vary is not None for each in book.examined),
        contrasts=len(book.contrasts),
        sets=len(book.sets),
        lessons=len(book.lessons),
        verdicts=tuple((name, verdicts[name]) for name in VERDICTS),
        interleaved_share=interleaved_share(book.sets, book.examined),
        near_duplicates=_near_duplicates(book),
        coverage=coverage,
        gaps=tuple(_gaps(book)),
        unused=tuple(name for name in catalogue() if name not in used),
        untaught=tuple((each.problem.path, names) for each in book.examined if (names := _untaught(book, each))),
        unproved=tuple((each.problem.path, said) for each in book.examined if (said := _unproved(each))),
        missing=tuple((each.problem.path, names) for each in book.examined if (names := _missing(book, each))),
        seconds=tuple(sorted(((e.problem.path, e.seconds) for e in book.examined), key=lambda pair: (-pair[1], pair[0]))),
    )


def _near_duplicates(book: Book) -> tuple[tuple[str, str, Message], ...]:
    """All but those that a contrast sets side by side on purpose."""
    meant = [set(made.source.pages) for made in book.contrasts]
    found = near_duplicates((each.problem.path, each.question) for each in book.examined if each.question is not None)
    return tuple(pair for pair in found if not any(set(pair[:2]) <= pages for pages in meant))


def _verdict(examined: Examined) -> str:
    """The weakest of a problem's keys."""
    found = {_outcome(verdict.outcome) for verdict in examined.keys} or {"undecided"}
    return next(name for name in reversed(VERDICTS) if name in found)


#: What is said of a problem that was never looked at to its end, by the code of its diagnostic.
_STOPPED = {"out-of-time": sentence("ran out of time"), "internal": sentence("the checking stopped")}


def _outcome(outcome: Outcome | None) -> str:
    """What a person answers for, or nobody looked at, is undecided."""
    return "undecided" if outcome is None or isinstance(outcome, Vouched) else verdict(outcome)


def _unproved(examined: Examined) -> Message | None:
    """What was found of a problem whose keys stand without a proof; None for a proved one. What is wrong is an error, not a remark."""
    found = _verdict(examined)
    if found not in ("enclosed", "undecided") or examined.withheld is not None:
        return None
    weakest = next((v.outcome for v in examined.keys if _outcome(v.outcome) == found), None)
    match weakest:
        case Checked():
            return agreeing(weakest)
        case Vouched(name=name, outcome=outcome):
            return say("{what}; {name} answers for it", what=undecided(outcome), name=name)
        case Undecided():
            return undecided(weakest)
    return Message(next((_STOPPED[d.code] for d in examined.diagnostics if d.code in _STOPPED), sentence("could not be read")))


def _coverage(book: Book) -> Iterator[Covered]:
    counts: Counter[tuple[str, str, int]] = Counter()
    for examined in book.examined:
        counts.update((examined.problem.chapter, technique, examined.problem.level) for technique in examined.techniques)
    order = {chapter.folder: n for n, chapter in enumerate(book.chapters)}
    names = {name: n for n, name in enumerate(catalogue())}
    for (chapter, technique, level), count in sorted(
        counts.items(), key=lambda item: (order.get(item[0][0], len(order)), names.get(item[0][1], len(names)), item[0][2])
    ):
        yield Covered(chapter, technique, level, count)


def _gaps(book: Book) -> Iterator[Gap]:
    there = {(each.problem.chapter, name, each.problem.level) for each in book.examined for name in each.used}
    for chapter in book.chapters:
        for name in chapter.introduces:
            empty = tuple(level for level in LEVELS if (chapter.folder, name.value, level) not in there)
            if empty:
                yield Gap(chapter.folder, name.value, empty)


def _untaught(book: Book, examined: Examined) -> tuple[str, ...]:
    """The techniques of a solution that is shown although neither the chapters so far nor the problem itself allow it."""
    found = examined.derivation
    if found is None or not found.routes or not any(each.code == NEEDS_UNTAUGHT.code for each in examined.diagnostics):
        return ()
    allowed = taught(book.chapters, examined.problem.chapter) or frozenset()
    needs = {text.value for text in examined.problem.needs}
    return untaught(found.routes[-1], allowed | needs)


def _missing(book: Book, examined: Examined) -> tuple[str, ...]:
    """A problem should say where it comes from (its source or its author) and under which licence, unless the book does."""
    problem = examined.problem
    source = problem.source is not None or problem.author is not None
    licence = problem.license is not None or bool(book.conventions.license)
    return tuple(name for name, said in (("source", source), ("license", licence)) if not said)
