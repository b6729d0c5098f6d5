"""A book as a site: pages as HTML and data, which know no site generator."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from ..book.data import Book, Examined, MadeContrast
from ..book.memory import Memory
from ..book.report import report as counted
from ..book.worksheets import Worksheet, worksheets
from ..diagnostics import codes, kind
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.formats.text import HasLines
from ..source.paths import page_name
from ..source.problem import Chapter, Conventions
from ..techniques import catalogue
from . import composed_pages as pages
from . import contrast, errata, formula_sheet, lists, manual, problem_page, progress
from . import report as report_page
from .addresses import Addresses, Here
from .badges import EXPLAINED
from .banner import banner
from .explained import TITLE, explained_body
from .handouts import links
from .keeping import Made, Recipe
from .keeping import pages as made_or_kept
from .markup import bare, escape, heading, shorten
from .page import Page
from .repository import Repository
from .solutions import method


@dataclass(frozen=True, slots=True)
class Site:
    """All pages that are made from the book, the navigation ((title, path) in order), and the worksheets that pages link to.

    `made` says how those of its pages were made, by path, that need not be made again where they are made of the same things.
    """

    pages: tuple[Page, ...]
    navigation: tuple[tuple[str, str], ...]
    worksheets: tuple[Worksheet, ...] = ()
    made: Mapping[str, Made] = field(default_factory=dict, compare=False, repr=False)


def site(
    book: Book,
    lines: HasLines,
    *,
    folders: bool = True,
    repository: Repository | None = None,
    report: bool = False,
    memory: Memory | None = None,
    previous: Site | None = None,
) -> Site:
    """Every page of a book.

    `lines` gives the lines of its files, for pages that show what is wrong with one; `folders` says whether addresses end in `/` or
    in `.html`; `repository` is where the files are kept for others to work on; `memory` is where pages of earlier runs are kept, `previous`
    a site that was made before in this one. With `report` there is the teacher's report, on a page that nothing leads to.
    """
    addresses, kept = Addresses(folders, book.conventions.language), repository or Repository()
    printed = worksheets(book, Here("index.md", addresses).tell)
    before = previous.made if previous else {}
    listing = made_or_kept([*_chapters(book, addresses, kept, printed), *_topics(book, addresses)], memory, before)
    recipes = [Recipe(spot.examined.problem.path, _problem, (spot, book.conventions, addresses, kept), (lines,)) for spot in spots(book)]
    problems = made_or_kept(recipes, memory, before)
    made = (
        _home(book, addresses),
        *(each.page for each in listing),
        *_composed(book, addresses, printed),
        formula_sheet.formulas_page(addresses),
        *_about(book, addresses),
        *_manual(addresses),
        *(each.page for each in problems),
        *_faults(book, lines, addresses),
        *(_report(book, addresses) if report else ()),
    )
    known = {each.page.path: each for each in (*listing, *problems)}
    return Site(tuple(_reachable(page, kept, addresses) for page in made), _navigation(book, addresses), printed, known)


def _about(book: Book, addresses: Addresses) -> Iterator[Page]:
    """The pages that every book has besides its own."""
    for path, name, kind_of, body in (
        (EXPLAINED, TITLE, "explained", explained_body),
        (errata.ERRATA, errata.TITLE, "errata", errata.errata_body),
        (progress.PROGRESS, progress.TITLE, "progress", progress.progress_body),
    ):
        here = Here(path, addresses)
        yield Page(path, here.tell(name), kind_of, body(book, here))


def _reachable(page: Page, repository: Repository, addresses: Addresses) -> Page:
    """A page that a teacher composed, with the ways to its file; a problem's page has them already."""
    if page.kind not in ("set", "lesson", "contrast"):
        return page
    ways = repository.page_links(Here(page.path, addresses))
    return replace(page, body=page.body + ways, edit=repository.edit_of(page.path))


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
        beside = tuple(made for made in book.contrasts if group[number].problem.path in made.source.pages)
        yield problem_page.Spot(group[number], chapter, number + 1, len(group), before, after, beside)


def _problem(spot: problem_page.Spot, conventions: Conventions, addresses: Addresses, repository: Repository, lines: HasLines) -> Page:
    examined = spot.examined
    path = examined.problem.path
    here = Here(path, addresses)
    made = problem_page.body(spot, here, conventions.title, lines, repository.links(here))
    tags = tuple(method(topic, here.tell) for topic in problem_page.topics(examined))
    title, words = problem_page.title(examined, here.said), problem_page.words(examined, here.said)
    return Page(path, title, "problem", made, words, tags, repository.edit_of(path))


def _report(book: Book, addresses: Addresses) -> Iterator[Page]:
    here = Here(report_page.PAGE, addresses)
    yield Page(here.path, here.tell(report_page.TITLE), "report", report_page.page_body(counted(book), book, here))


@functools.cache
def _manual(addresses: Addresses) -> tuple[Page, ...]:
    here = Here(manual.INDEX, addresses)
    index = Page(here.path, here.tell(manual.TITLE), "manual", manual.index_body(here))
    paths = {code: manual.path_of(code) for code in codes()}
    pages = (
        Page(path, here.tell(kind(code).title), "manual", manual.manual_body(code, Here(path, addresses))) for code, path in paths.items()
    )
    return index, *pages


def _home(book: Book, addresses: Addresses) -> Page:
    return Page("index.md", book.conventions.title, "home", lists.home_body(book, Here("index.md", addresses)))


def _chapters(book: Book, addresses: Addresses, repository: Repository, printed: tuple[Worksheet, ...]) -> Iterator[Recipe]:
    for chapter in book.chapters:
        path = f"{chapter.folder}/index.md"
        sheets = links(path, printed, Here(path, addresses))
        yield Recipe(path, _chapter, (chapter, book.problems_of(chapter), book.contrasts_of(chapter), sheets, addresses, repository))


def _chapter(
    chapter: Chapter,
    problems: tuple[Examined, ...],
    contrasts: tuple[MadeContrast, ...],
    sheets: str,
    addresses: Addresses,
    repository: Repository,
) -> Page:
    path = f"{chapter.folder}/index.md"
    here = Here(path, addresses)
    body = lists.chapter_body(problems, here) + contrast.chapter_contrasts(contrasts, here) + sheets
    return Page(path, chapter.title, "chapter", body + repository.add_link(here))


def _topics(book: Book, addresses: Addresses) -> Iterator[Recipe]:
    found = lists.topic_pages(book)
    yield Recipe("topics/index.md", _all_topics, (tuple(found.items()), addresses))
    for topic, problems in found.items():
        yield Recipe(f"topics/{topic}.md", _topic, (topic, problems, addresses))


def _all_topics(found: tuple[tuple[str, tuple[Examined, ...]], ...], addresses: Addresses) -> Page:
    here = Here("topics/index.md", addresses)
    return Page(here.path, here.tell("Topics"), "topics", lists.topics_body(dict(found), here))


def _topic(topic: str, problems: tuple[Examined, ...], addresses: Addresses) -> Page:
    path = f"topics/{topic}.md"
    here = Here(path, addresses)
    about = shorten(here.tell(catalogue()[topic].explains), 160)
    return Page(path, method(topic, here.tell), "topic", lists.topic_body(topic, problems, here), about)


def _composed(book: Book, addresses: Addresses, printed: tuple[Worksheet, ...]) -> Iterator[Page]:
    known = {examined.problem.path: examined for examined in book.examined}
    if book.sets:
        here = Here(pages.SETS, addresses)
        yield Page(here.path, here.tell("Sets to practise"), "sets", pages.sets_body(book, here))
    for made in book.sets:
        here = Here(made.path, addresses)
        yield Page(made.path, bare(made.source.title), "set", pages.set_body(made, book, here, links(made.path, printed, here)))
    if book.lessons:
        here = Here(pages.LESSONS, addresses)
        yield Page(here.path, here.tell("Lessons"), "lessons", pages.lessons_body(book, here))
    if book.contrasts:
        here = Here(contrast.CONTRASTS, addresses)
        yield Page(here.path, here.tell(contrast.TITLE), "contrasts", contrast.contrasts_body(book, here))
    for found in book.contrasts:
        yield Page(found.path, bare(found.source.title), "contrast", contrast.contrast_body(found, known, Here(found.path, addresses)))
    for lesson in book.lessons:
        yield Page(lesson.path, bare(lesson.title), "lesson", pages.lesson_body(lesson, book, Here(lesson.path, addresses)))


def _faults(book: Book, lines: HasLines, addresses: Addresses) -> Iterator[Page]:
    """A page in place of each file that could not be read at all: what is wrong with it."""
    shown = {examined.problem.path for examined in book.examined} | {f"{chapter.folder}/index.md" for chapter in book.chapters}
    shown |= {made.path for made in book.sets} | {lesson.path for lesson in book.lessons} | {made.path for made in book.contrasts}
    unread: dict[str, list[Diagnostic]] = {}
    for fault in book.diagnostics:
        path = fault.labels[0].span.path if fault.labels else ""
        if fault.severity == "error" and path.endswith(".md") and path not in shown:
            unread.setdefault(path, []).append(fault)
    for path, faults in unread.items():
        name = page_name(path)
        here = Here(path, addresses)
        yield Page(path, here.tell("{file}: needs mending", file=name), "fault", heading(escape(name)) + banner(faults, lines, here))


def _navigation(book: Book, addresses: Addresses) -> tuple[tuple[str, str], ...]:
    tell = Here("index.md", addresses).tell
    chapters = tuple((chapter.title, f"{chapter.folder}/index.md") for chapter in book.chapters)
    lists_of = (
        (tell("Sets"), pages.SETS, book.sets),
        (tell(contrast.TITLE), contrast.CONTRASTS, book.contrasts),
        (tell("Lessons"), pages.LESSONS, book.lessons),
    )
    composed = ((name, path) for name, path, there in lists_of if there)
    return (
        (tell("Front page"), "index.md"),
        *chapters,
        *composed,
        (tell("Topics"), "topics/index.md"),
        (tell(formula_sheet.TITLE), formula_sheet.FORMULAS),
        (tell(progress.TITLE), progress.PROGRESS),
        (tell(TITLE), EXPLAINED),
        (tell(errata.TITLE), errata.ERRATA),
    )
