"""A book as a site: pages as HTML and data, which know no site generator."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..book.data import Book, Examined
from ..book.report import report as counted
from ..diagnostics import codes, kind
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.formats.text import HasLines
from ..source.problem import Chapter
from . import composed_pages as pages
from . import contrast, errata, lists, manual, problem_page
from . import report as report_page
from .addresses import Addresses, Here
from .badges import EXPLAINED
from .banner import banner
from .explained import TITLE, explained_body
from .markup import bare, escape, heading
from .repository import Repository
from .solutions import method


@dataclass(frozen=True, slots=True)
class Page:
    """One page. `path` is where its source would be (`chapter/slug.md`), `body` its HTML.

    `kind` is `problem`, `chapter`, `topic`, `topics`, `set`, `sets`, `lesson`, `lessons`, `contrast`, `contrasts`, `home`,
    `explained`, `errata`, `manual`, `report` or `fault`. For a chapter, the front page and the lists of sets and lessons `body` comes
    after the author's own text. `words` (at most 160 characters) and `tags` are what a search should find besides the title; `edit` is
    the address at which a problem's file is edited.
    """

    path: str
    title: str
    kind: str
    body: str
    words: str = ""
    tags: tuple[str, ...] = ()
    edit: str = ""

    @property
    def look(self) -> dict[str, object]:
        """What a site generator is to know of the page besides its title: settings as the head of a Markdown file gives them."""
        if self.kind == "report":
            return {"template": "problem.html", "search": {"exclude": True}, "robots": "noindex"}
        return {"template": "problem.html"} if self.lean else {"hide": ["toc"]}

    @property
    def lean(self) -> bool:
        """Whether the page stays out of the navigation and brings its own way back."""
        return self.kind in ("problem", "fault", "topic", "set", "lesson", "contrast", "manual", "report")


@dataclass(frozen=True, slots=True)
class Site:
    """All pages that are made from the book, and the navigation: (title, path) in order."""

    pages: tuple[Page, ...]
    navigation: tuple[tuple[str, str], ...]


def site(book: Book, lines: HasLines, *, folders: bool = True, repository: Repository | None = None, report: bool = False) -> Site:
    """Every page of a book.

    `lines` gives the lines of its files, for pages that show what is wrong with one; `folders` says whether addresses end in `/` or
    in `.html`; `repository` is where the files are kept for others to work on. With `report` there is the teacher's report, on a
    page that nothing leads to.
    """
    addresses, kept = Addresses(folders), repository or Repository()
    made = (
        _home(book, addresses),
        *_chapters(book, addresses, kept),
        *_topics(book, addresses),
        *_composed(book, addresses),
        Page(EXPLAINED, TITLE, "explained", explained_body(book)),
        Page(errata.ERRATA, errata.TITLE, "errata", errata.errata_body(book, Here(errata.ERRATA, addresses))),
        *_manual(addresses),
        *(_problem(spot, book, addresses, lines, kept) for spot in spots(book)),
        *_faults(book, lines),
        *(_report(book, addresses) if report else ()),
    )
    return Site(made, _navigation(book))


def spots(book: Book) -> Iterator[problem_page.Spot]:
    """The problems in the order of the book, each with its neighbours. Problems outside every chapter come last."""
    groups: list[tuple[Chapter | None, tuple[Examined, ...]]] = [(chapter, book.problems_of(chapter)) for chapter in book.chapters]
    known = {chapter.folder for chapter in book.chapters}
    groups.append((None, tuple(e for e in book.examined if e.problem.chapter not in known)))
    ordered = [(chapter, group, number) for chapter, group in groups for number in range(len(group))]
    flat = [group[number] for _, group, number in ordered]
    for index, (chapter, group, number) in enumerate(ordered):
        before = flat[index - 1] if index else None
        after = flat[index + 1] if index + 1 < len(flat) else None
        yield problem_page.Spot(group[number], chapter, number + 1, len(group), before, after)


def _problem(spot: problem_page.Spot, book: Book, addresses: Addresses, lines: HasLines, repository: Repository) -> Page:
    examined = spot.examined
    path = examined.problem.path
    made = problem_page.body(spot, Here(path, addresses), book.conventions.title, lines, repository.links(path))
    tags = tuple(method(topic) for topic in problem_page.topics(examined))
    return Page(path, problem_page.title(examined), "problem", made, problem_page.words(examined), tags, repository.edit_of(path))


def _report(book: Book, addresses: Addresses) -> Iterator[Page]:
    yield Page(report_page.PAGE, report_page.TITLE, "report", report_page.page_body(counted(book), book, Here(report_page.PAGE, addresses)))


def _manual(addresses: Addresses) -> Iterator[Page]:
    yield Page(manual.INDEX, manual.TITLE, "manual", manual.index_body(Here(manual.INDEX, addresses)))
    for code in codes():
        path = manual.path_of(code)
        yield Page(path, kind(code).title, "manual", manual.manual_body(code, Here(path, addresses)))


def _home(book: Book, addresses: Addresses) -> Page:
    return Page("index.md", book.conventions.title, "home", lists.home_body(book, Here("index.md", addresses)))


def _chapters(book: Book, addresses: Addresses, repository: Repository) -> Iterator[Page]:
    for chapter in book.chapters:
        path = f"{chapter.folder}/index.md"
        here = Here(path, addresses)
        body = lists.chapter_body(book.problems_of(chapter), here) + contrast.chapter_contrasts(book.contrasts_of(chapter), here)
        yield Page(path, chapter.title, "chapter", body + repository.add_link(path))


def _topics(book: Book, addresses: Addresses) -> Iterator[Page]:
    found = lists.topic_pages(book)
    yield Page("topics/index.md", "Topics", "topics", lists.topics_body(found, Here("topics/index.md", addresses)))
    for topic, problems in found.items():
        path = f"topics/{topic}.md"
        yield Page(path, method(topic), "topic", lists.topic_body(topic, problems, Here(path, addresses)))


def _composed(book: Book, addresses: Addresses) -> Iterator[Page]:
    known = {examined.problem.path: examined for examined in book.examined}
    if book.sets:
        yield Page(pages.SETS, "Sets to practise", "sets", pages.sets_body(book, Here(pages.SETS, addresses)))
    for made in book.sets:
        yield Page(made.path, bare(made.source.title), "set", pages.set_body(made, known, Here(made.path, addresses)))
    if book.lessons:
        yield Page(pages.LESSONS, "Lessons", "lessons", pages.lessons_body(book, Here(pages.LESSONS, addresses)))
    if book.contrasts:
        yield Page(contrast.CONTRASTS, contrast.TITLE, "contrasts", contrast.contrasts_body(book, Here(contrast.CONTRASTS, addresses)))
    for found in book.contrasts:
        yield Page(found.path, bare(found.source.title), "contrast", contrast.contrast_body(found, known, Here(found.path, addresses)))
    for lesson in book.lessons:
        yield Page(lesson.path, bare(lesson.title), "lesson", pages.lesson_body(lesson, book, Here(lesson.path, addresses)))


def _faults(book: Book, lines: HasLines) -> Iterator[Page]:
    """A page in place of each file that could not be read at all: what is wrong with it."""
    shown = {examined.problem.path for examined in book.examined} | {f"{chapter.folder}/index.md" for chapter in book.chapters}
    shown |= {made.path for made in book.sets} | {lesson.path for lesson in book.lessons} | {made.path for made in book.contrasts}
    unread: dict[str, list[Diagnostic]] = {}
    for fault in book.diagnostics:
        path = fault.labels[0].span.path if fault.labels else ""
        if fault.severity == "error" and path.endswith(".md") and path not in shown:
            unread.setdefault(path, []).append(fault)
    for path, faults in unread.items():
        name = path.rsplit("/", 1)[-1].removesuffix(".md")
        yield Page(path, f"{name}: needs mending", "fault", heading(escape(name)) + banner(faults, lines))


def _navigation(book: Book) -> tuple[tuple[str, str], ...]:
    chapters = tuple((chapter.title, f"{chapter.folder}/index.md") for chapter in book.chapters)
    lists_of = (
        ("Sets", pages.SETS, book.sets),
        (contrast.TITLE, contrast.CONTRASTS, book.contrasts),
        ("Lessons", pages.LESSONS, book.lessons),
    )
    composed = ((name, path) for name, path, there in lists_of if there)
    return (
        ("Front page", "index.md"),
        *chapters,
        *composed,
        ("Topics", "topics/index.md"),
        (TITLE, EXPLAINED),
        (errata.TITLE, errata.ERRATA),
    )
