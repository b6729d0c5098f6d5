"""What may be published when: before its day, only the question of a problem is in the book that pages are made from."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import replace

from .data import Book, Examined, MadeContrast


def today(environment: Mapping[str, str]) -> datetime.date:
    """The day of a build. `SOURCE_DATE_EPOCH` (seconds since 1970, UTC; reproducible-builds.org) stands in for the clock.

    Raises:
        ValueError: the variable is set to something other than a whole number of seconds within the calendar.
    """
    fixed = environment.get("SOURCE_DATE_EPOCH", "").strip()
    if not fixed:
        return datetime.datetime.now(datetime.UTC).date()
    try:
        return datetime.datetime.fromtimestamp(int(fixed), datetime.UTC).date()
    except (ValueError, OverflowError, OSError):
        raise ValueError(f"SOURCE_DATE_EPOCH must be a whole number of seconds, not {fixed!r}") from None


def published(book: Book, day: datetime.date, *, answers: bool = True, address: str = "") -> Book:
    """The book as it may be read on a day: withheld problems are their question and nothing else.

    Nothing can leak from a page that was made from this: what is withheld is not there. `answers` False withholds all, for good.
    `address` is where it is published, for a book that does not say so itself.
    """
    shown = tuple(_published(examined, day, answers) for examined in book.examined)
    withheld = {examined.problem.path for examined in shown if examined.withheld is not None}
    contrasts = tuple(_bare(made) if withheld.intersection(made.source.pages) else made for made in book.contrasts)
    where = replace(book.conventions, address=book.conventions.address or (address.rstrip("/") + "/" if address else ""))
    return replace(book, conventions=where, examined=shown, contrasts=contrasts)


def _bare(made: MadeContrast) -> MadeContrast:
    """A contrast of withheld problems: its title and nothing else."""
    source = made.source
    return MadeContrast(type(source)(source.path, source.title, source.place, source.kind, source.problems, (), ""), (), (), None, (), 0)


def _published(examined: Examined, day: datetime.date, answers: bool) -> Examined:
    release = examined.problem.release
    if answers and (release is None or datetime.date.fromisoformat(release.value) <= day):
        return examined
    problem = examined.problem
    # Made anew: whatever else is ever known of a problem is left behind without a word here.
    bare = type(problem)(
        problem.path,
        problem.question,
        (),
        problem.title,
        problem.level,
        domain=problem.domain,
        given=problem.given,
        release=release,
        author=problem.author,
        source=problem.source,
        license=problem.license,
    )
    faults = tuple(fault for fault in examined.diagnostics if fault.severity == "error")
    return Examined(bare, examined.question, diagnostics=faults, withheld=release.value if answers and release else "")
