"""The teacher's report: for the terminal, and as a page that no menu and no search leads to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from ..book.data import Book
from ..book.report import LEVELS, Report
from ..diagnostics.formats.text import cells, visible
from ..techniques import catalogue
from .addresses import Here
from .markup import element, escape, heading

PAGE = "report.md"
TITLE = "Report for the teacher"
_SLOWEST, _MOST = 10, 200
#: What the page and the terminal both list: paths (or names), and what is said of them.
Rows = list[tuple[tuple[str, ...], str]]


def as_text(report: Report, book: Book) -> str:
    """Counts, what is to be mended, then the matrix chapter by chapter: one row a technique, one column a level."""
    lines = [*(f"{label:<28} {value}" for label, value in _counts(report)), ""]
    for title, none, rows in _parts(report, book):
        lines.append(f"{title}: {none}" if not rows else f"{title}:")
        lines += [f"  {visible(_said(paths, what))}" for paths, what in rows[:_MOST]]
        lines += [f"  … and {len(rows) - _MOST} more"] if len(rows) > _MOST else []
    return "\n".join([*lines, "", "Problems by technique and level:", *_columns(report, book)])


def _columns(report: Report, book: Book) -> list[str]:
    """The matrix, chapter under chapter."""
    found = [(visible(chapter.title), _matrix(report, chapter.folder)) for chapter in book.chapters]
    names = [*(title for title, _ in found), *(f"  {_title(name)}" for _, rows in found for name, _ in rows)]
    width = max(map(cells, names), default=0)
    lines: list[str] = []
    for title, rows in found:
        lines += ["", f"  {title}{' ' * (width - cells(title))}" + "".join(f"{level:>5}" for level in LEVELS)]
        lines += [f"    {_title(name):<{width - 2}}" + "".join(f"{count or '–':>5}" for count in counts) for name, counts in rows]
    return lines


def _said(paths: tuple[str, ...], what: str) -> str:
    return ": ".join(filter(None, (" and ".join(paths), what)))


def _counts(report: Report) -> list[tuple[str, str]]:
    words = {"proved": "proved", "enclosed": "only agree to many digits", "undecided": "could not be decided", "refuted": "wrong"}
    return [
        ("Problems", f"{report.problems} ({report.families} of them families)"),
        ("Keys", ", ".join(f"{count} {words[name]}" for name, count in report.verdicts if count or name == "proved")),
        ("Contrasts, sets, lessons", f"{report.contrasts}, {report.sets}, {report.lessons}"),
        ("Problems in mixed practice", f"{report.interleaved_share:.0%}"),
    ]


def _parts(report: Report, book: Book) -> tuple[tuple[str, str, Rows], ...]:
    """Each list with its title and what is said when it is empty."""
    titles = {chapter.folder: chapter.title for chapter in book.chapters}
    levels: Rows = [
        ((titles[g.chapter],), f"{_title(g.technique)} at level{'s' if len(g.levels) > 1 else ''} {_listed(map(str, g.levels))}")
        for g in report.gaps
    ]
    slow: Rows = [((path,), f"{seconds:.1f} s") for path, seconds in report.seconds[:_SLOWEST] if seconds >= 0.05]
    unused: Rows = [((name,), "") for name in dict.fromkeys(map(_title, report.unused))]
    return (
        ("Nearly the same question", "none", [((first, second), why) for first, second, why in report.near_duplicates]),
        ("Taught, but not practised", "nothing", levels),
        ("Needs what has not been taught", "none", [((path,), _listed(map(_title, names))) for path, names in report.untaught]),
        ("Not proved", "none", [((path,), what) for path, what in report.unproved]),
        ("Without a source or a licence", "none", [((path,), f"{_listed(names)} missing") for path, names in report.missing]),
        ("In no worked solution", "none", unused),
        ("Took longest to check", "none over 0.05 s", slow),
    )


def _listed(words: Iterable[str]) -> str:
    found = list(words)
    return " and ".join(filter(None, (", ".join(found[:-1]), found[-1])))


def _title(technique: str) -> str:
    return catalogue()[technique].title if technique in catalogue() else technique


def _matrix(report: Report, chapter: str) -> list[tuple[str, tuple[int, ...]]]:
    """The techniques that a chapter uses, each with its problems at every level."""
    counts = {(c.technique, c.level): c.count for c in report.coverage if c.chapter == chapter}
    return [(name, tuple(counts.get((name, level), 0) for level in LEVELS)) for name in dict.fromkeys(name for name, _ in counts)]


def page_body(report: Report, book: Book, here: Here) -> str:
    """The report as a page; every problem in it is a link."""
    facts = element("dl", *(element("dt", escape(label)) + element("dd", escape(value)) for label, value in _counts(report)))
    known = {examined.problem.path for examined in book.examined}

    def link(path: str) -> str:
        return element("a", escape(path), href=here.link(path)) if path in known else escape(path)

    parts = [_part(title, none, rows, link) for title, none, rows in _parts(report, book)]
    back = element("a", escape(book.conventions.title), href=here.link("index.md"))
    path = element("nav", element("ol", element("li", back)), class_="ev-path", aria_label="Where this page is")
    return path + heading(TITLE) + element("section", facts, *parts, _table(report, book), data_search_exclude=1)


def _part(title: str, none: str, rows: Sequence[tuple[tuple[str, ...], str]], link: Callable[[str], str]) -> str:
    items = [element("li", " and ".join(map(link, paths)), escape(f": {what}") if what else "") for paths, what in rows[:_MOST]] + (
        [element("li", f"… and {len(rows) - _MOST} more")] if len(rows) > _MOST else []
    )
    return element("h2", title) + (element("ul", *items) if items else element("p", none[0].upper() + none[1:] + "."))


def _table(report: Report, book: Book) -> str:
    """Techniques down, chapters across; in each cell the problems at levels 1, 2 and 3."""
    found = {chapter.folder: dict(_matrix(report, chapter.folder)) for chapter in book.chapters}
    used = [name for name in catalogue() if any(name in rows for rows in found.values())]
    head = element("tr", element("td"), *(element("th", escape(chapter.title), scope="col") for chapter in book.chapters))
    body = [
        element(
            "tr", element("th", escape(_title(name)), scope="row"), *(_cell(found[chapter.folder].get(name)) for chapter in book.chapters)
        )
        for name in used
    ]
    table = element("table", element("caption", "Problems at levels 1 · 2 · 3"), element("thead", head), element("tbody", *body))
    box = element("div", table, class_="ev-wide", tabindex=0, role="region", aria_label="Problems by technique, chapter and level")
    return element("h2", "Problems by technique, chapter and level") + box if used else ""


def _cell(counts: tuple[int, ...] | None) -> str:
    return element("td", " · ".join(map(str, counts)) if counts else "")
