"""The teacher's report: for the terminal, and as a page that no menu and no search leads to."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ..book.data import Book
from ..book.report import LEVELS, Gap, Report
from ..diagnostics.formats.text import cells, visible
from ..notation import plain
from ..notation.message import fill, sentence
from ..techniques import catalogue
from .addresses import Addresses, Here
from .markup import element, escape, heading

PAGE = "report.md"
TITLE = sentence("Report for the teacher")
_SLOWEST, _MOST = 10, 200
#: From how many seconds on a problem took long.
_ENOUGH = 0.05
_VERDICTS = {
    "proved": sentence("{count} proved"),
    "enclosed": sentence("{count} only agree to many digits"),
    "undecided": sentence("{count} could not be decided"),
    "refuted": sentence("{count} wrong"),
}
_LACKING = {"source": sentence("source"), "license": sentence("license")}
#: What the page and the terminal both list: paths (or names), and what is said of them.
Rows = list[tuple[tuple[str, ...], str]]


def as_text(report: Report, book: Book) -> str:
    """Counts, what is to be mended, then the matrix chapter by chapter: one row a technique, one column a level.

    A terminal is spoken to in the words of the page.
    """
    here = Here(PAGE, Addresses(language=book.conventions.language))
    lines = [*(f"{label:<28} {value}" for label, value in _counts(report, here)), ""]
    for title, none, rows in _parts(report, book, here):
        lines.append(f"{title}: {none}" if not rows else f"{title}:")
        lines += [f"  {visible(_said(paths, what, here))}" for paths, what in rows[:_MOST]]
        lines += [f"  {_more(rows, here)}"] if len(rows) > _MOST else []
    return "\n".join([*lines, "", here.tell("Problems by technique and level:"), *_columns(report, book, here)])


def _more(rows: Rows, here: Here) -> str:
    return here.tell("… and {count} more", count=len(rows) - _MOST)


def _columns(report: Report, book: Book, here: Here) -> list[str]:
    """The matrix, chapter under chapter."""
    found = [(visible(chapter.title), _matrix(report, chapter.folder)) for chapter in book.chapters]
    names = [*(title for title, _ in found), *(f"  {_title(name, here)}" for _, rows in found for name, _ in rows)]
    width = max(map(cells, names), default=0)
    lines: list[str] = []
    for title, rows in found:
        lines += ["", f"  {title}{' ' * (width - cells(title))}" + "".join(f"{level:>5}" for level in LEVELS)]
        lines += [f"    {_title(name, here):<{width - 2}}" + "".join(f"{count or '–':>5}" for count in counts) for name, counts in rows]
    return lines


def _said(paths: tuple[str, ...], what: str, here: Here) -> str:
    return ": ".join(filter(None, (_listed(paths, here), what)))


def _counts(report: Report, here: Here) -> list[tuple[str, str]]:
    problems = here.tell("{count} ({families} of them families)", count=report.problems, families=report.families)
    keys = (here.tell(_VERDICTS[name], count=count) for name, count in report.verdicts if count or name == "proved")
    return [
        (here.tell("Problems"), problems),
        (here.tell("Keys"), ", ".join(keys)),
        (here.tell("Contrasts, sets, lessons"), f"{report.contrasts}, {report.sets}, {report.lessons}"),
        (here.tell("Problems in mixed practice"), here.percent(report.interleaved_share)),
    ]


def _parts(report: Report, book: Book, here: Here) -> tuple[tuple[str, str, Rows], ...]:
    """Each list with its title and what is said when it is empty."""
    titles = {chapter.folder: chapter.title for chapter in book.chapters}
    tell, none, enough = here.tell, here.tell("none"), here.number(f"{_ENOUGH}")
    alike: Rows = [((first, second), fill(why, plain, tell)) for first, second, why in report.near_duplicates]
    levels: Rows = [((titles[gap.chapter],), _missed(gap, here)) for gap in report.gaps]
    early: Rows = [((path,), _listed([_title(name, here) for name in names], here)) for path, names in report.untaught]
    unproved: Rows = [((path,), fill(what, plain, tell)) for path, what in report.unproved]
    missing: Rows = [((path,), _lacks(names, here)) for path, names in report.missing]
    unused: Rows = [((name,), "") for name in dict.fromkeys(_title(name, here) for name in report.unused)]
    slow: Rows = [((path,), here.number(f"{seconds:.1f} s")) for path, seconds in report.seconds[:_SLOWEST] if seconds >= _ENOUGH]
    return (
        (tell("Nearly the same question"), none, alike),
        (tell("Taught, but not practised"), tell("nothing"), levels),
        (tell("Needs what has not been taught"), none, early),
        (tell("Not proved"), none, unproved),
        (tell("Without a source or a licence"), none, missing),
        (tell("In no worked solution"), none, unused),
        (tell("Took longest to check"), tell("none over {seconds} s", seconds=enough), slow),
    )


def _missed(gap: Gap, here: Here) -> str:
    """What a chapter teaches, and the levels at which it is not practised."""
    single = len(gap.levels) == 1
    return here.tell(
        "{technique} at level {levels}" if single else "{technique} at levels {levels}",
        technique=_title(gap.technique, here),
        levels=_listed([str(level) for level in gap.levels], here),
    )


def _lacks(names: Sequence[str], here: Here) -> str:
    return here.tell("{things} missing", things=_listed([here.tell(_LACKING[name]) for name in names], here))


def _listed(words: Sequence[str], here: Here) -> str:
    if len(words) < 2:
        return "".join(words)
    return here.tell("{first} and {last}", first=", ".join(words[:-1]), last=words[-1])


def _title(technique: str, here: Here) -> str:
    return here.tell(catalogue()[technique].title) if technique in catalogue() else technique


def _matrix(report: Report, chapter: str) -> list[tuple[str, tuple[int, ...]]]:
    """The techniques that a chapter uses, each with its problems at every level."""
    counts = {(c.technique, c.level): c.count for c in report.coverage if c.chapter == chapter}
    return [(name, tuple(counts.get((name, level), 0) for level in LEVELS)) for name in dict.fromkeys(name for name, _ in counts)]


def page_body(report: Report, book: Book, here: Here) -> str:
    """The report as a page; every problem in it is a link."""
    facts = element("dl", *(element("dt", escape(label)) + element("dd", escape(value)) for label, value in _counts(report, here)))
    known = {examined.problem.path for examined in book.examined}

    def link(path: str) -> str:
        return element("a", escape(path), href=here.link(path)) if path in known else escape(path)

    parts = [_part(title, none, rows, link, here) for title, none, rows in _parts(report, book, here)]
    back = element("a", escape(book.conventions.title), href=here.link("index.md"))
    path = element("nav", element("ol", element("li", back)), class_="ev-path", aria_label=here.tell("Where this page is"))
    return path + heading(here.tell(TITLE)) + element("section", facts, *parts, _table(report, book, here), data_search_exclude=1)


def _part(title: str, none: str, rows: Rows, link: Callable[[str], str], here: Here) -> str:
    items = [element("li", _listed([*map(link, paths)], here), escape(f": {what}") if what else "") for paths, what in rows[:_MOST]]
    items += [element("li", _more(rows, here))] if len(rows) > _MOST else []
    return element("h2", title) + (element("ul", *items) if items else element("p", none[0].upper() + none[1:] + "."))


def _table(report: Report, book: Book, here: Here) -> str:
    """Techniques down, chapters across; in each cell the problems at levels 1, 2 and 3."""
    found = {chapter.folder: dict(_matrix(report, chapter.folder)) for chapter in book.chapters}
    used = [name for name in catalogue() if any(name in rows for rows in found.values())]
    head = element("tr", element("td"), *(element("th", escape(chapter.title), scope="col") for chapter in book.chapters))
    heads = [(name, element("th", escape(_title(name, here)), scope="row")) for name in used]
    body = [element("tr", first, *(_cell(found[chapter.folder].get(name)) for chapter in book.chapters)) for name, first in heads]
    caption = element("caption", here.tell("Problems at levels 1 · 2 · 3"))
    table = element("table", caption, element("thead", head), element("tbody", *body), class_="ev-table")
    name = here.tell("Problems by technique, chapter and level")
    box = element("div", table, class_="ev-wide", tabindex=0, role="region", aria_label=name)
    return element("h2", name) + box if used else ""


def _cell(counts: tuple[int, ...] | None) -> str:
    return element("td", " · ".join(map(str, counts)) if counts else "")
