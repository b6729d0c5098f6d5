"""The sets of a book: which problems are in each, and that a mixed set is mixed."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from random import Random

from ..diagnostics import Diagnostic, diagnose
from ..diagnostics.kind import Fact
from ..diagnostics.kinds.page_unknown import PageUnknown
from ..diagnostics.kinds.set_not_mixed import NotMixed
from ..diagnostics.kinds.set_too_small import SetTooSmall
from ..source.paths import page_path
from ..source.sets import PracticeSet
from ..source.span import Text
from .data import Examined, MadeSet
from .interleave import mixed, neighbours_alike, spread, too_many


def beginning(examined: Examined) -> str:
    """The technique with which the preferred worked solution begins; empty where there is none."""
    routes = () if examined.derivation is None else examined.derivation.routes
    return routes[0].techniques[0] if routes and routes[0].techniques else ""


def make_set(source: PracticeSet, examined: Sequence[Examined], chapters: Sequence[str]) -> tuple[MadeSet | None, tuple[Diagnostic, ...]]:
    """The set that a file asks for, from the problems of the book (in its order), or what stands in the way."""
    if source.problems:
        made, facts = _listed(source, examined)
    else:
        made, facts = _picked(source, examined, chapters)
    return made, tuple(diagnose(fact) for fact in facts)


def _listed(source: PracticeSet, examined: Sequence[Examined]) -> tuple[MadeSet | None, list[Fact]]:
    known = {e.problem.path: e for e in examined}
    facts: list[Fact] = [missing_page(text, known) for text in source.problems if page_path(text.value) not in known]
    if facts:
        return None, facts
    chosen = [known[page_path(text.value)] for text in source.problems]
    paths = tuple(e.problem.path for e in chosen)
    if not source.mixed:
        return MadeSet(source, paths, False), []
    begins = [beginning(e) for e in chosen]
    facts += [NotMixed(text.span, "unworked", text.value) for text, begin in zip(source.problems, begins, strict=True) if not begin]
    alike = neighbours_alike(begins)
    if not facts and alike is not None:
        facts.append(NotMixed(source.problems[alike].span, "neighbours", begins[alike]))
    return (None if facts else MadeSet(source, paths, True)), facts


def _picked(source: PracticeSet, examined: Sequence[Examined], chapters: Sequence[str]) -> tuple[MadeSet | None, list[Fact]]:
    facts: list[Fact] = [missing_page(text, chapters, "chapter") for text in source.chapters if text.value.strip("/") not in chapters]
    if facts:
        return None, facts
    place = source.count_place or source.place
    fitting = [e for e in examined if e.sound and _fits(source, e)]
    if len(fitting) < source.count:
        return None, [SetTooSmall(place, source.count, len(fitting))]
    random = Random(source.seed)
    if not source.mixed:
        picked = {e.problem.path for e in random.sample(fitting, source.count)}
        return MadeSet(source, tuple(e.problem.path for e in fitting if e.problem.path in picked), False), []
    chosen = spread(fitting, beginning, source.count, random)
    crowd = too_many([beginning(e) for e in chosen])
    if crowd is not None:
        return None, [NotMixed(place, "too-many", crowd)]
    order = mixed(chosen, beginning, random)
    assert neighbours_alike([beginning(e) for e in order]) is None
    return MadeSet(source, tuple(e.problem.path for e in order), True), []


def _fits(source: PracticeSet, examined: Examined) -> bool:
    problem, begin = examined.problem, beginning(examined)
    folders, techniques = {text.value.strip("/") for text in source.chapters}, {text.value for text in source.techniques}
    if folders and problem.chapter not in folders:
        return False
    if source.levels and problem.level not in source.levels:
        return False
    return begin in techniques if techniques else bool(begin) or not source.mixed


def missing_page(text: Text, known: Sequence[str] | dict[str, Examined], what: str = "problem") -> PageUnknown:
    """The fact that a file names a page that the book does not have, with the one that was probably meant."""
    wanted = page_path(text.value) if what != "chapter" else text.value
    close = get_close_matches(wanted, known, n=1, cutoff=0.6)
    last = [path for path in known if path.rsplit("/", 1)[-1] == wanted.rsplit("/", 1)[-1]]
    return PageUnknown(text.span, what, text.value, next(iter(last or close), "").removesuffix(".md"))


def interleaved_share(sets: Sequence[MadeSet], examined: Sequence[Examined]) -> float:
    """The share of the book's problems that stand in at least one mixed set, from 0 to 1."""
    inside = {path for each in sets if each.mixed for path in each.problems}
    return sum(e.problem.path in inside for e in examined) / len(examined) if examined else 0.0
