"""A book as data: what was read, what was proved of it, and what is to be said about it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields

from ..derive.route import Attempt, Derivation, Line, Reconciliation, Route
from ..diagnostics.diagnostic import Diagnostic
from ..kernel import Checked, Undecided
from ..kernel.claims import Verdict
from ..notation.message import Message
from ..notation.question import Question
from ..notation.tree import Node
from ..source.contrasts import Contrast
from ..source.lessons import Lesson
from ..source.problem import Chapter, Conventions, Problem
from ..source.sets import PracticeSet
from ..source.span import Text
from .blanks import Blank
from .curves import Drawing
from .misstep import Misstep
from .trying import Trial


@dataclass(frozen=True, slots=True)
class Vouched:
    """An undecided key that a person answers for, in the file, by name and with a reason."""

    name: str
    reason: str
    outcome: Undecided


Outcome = Verdict | Vouched


@dataclass(frozen=True, slots=True)
class KeyVerdict:
    """One key of a problem: its text, what it was read as (None: it could not be read) and what the kernel says of it.

    `read_as` is set when the text had several readings and exactly one of them is proved.
    """

    text: Text
    tree: Node | None
    outcome: Outcome | None
    read_as: str = ""

    @property
    def right(self) -> bool:
        return isinstance(self.outcome, Checked | Vouched)


@dataclass(frozen=True, slots=True)
class HandSolution:
    """A solution that a person wrote in the file; every line of it is checked."""

    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Work:
    """One worked solution of a question: its lines, each checked, the lines of it that a student can fill in, and it with a slip.

    `method` is the technique that it is called by; empty: it is the author's own.
    """

    question: Question
    lines: tuple[Line, ...]
    method: str
    blanks: tuple[Blank, ...] = ()
    misstep: Misstep | None = None


@dataclass(frozen=True, slots=True)
class Instance:
    """One question of a family: the numbers for its letters, the file as it reads with them, and its keys, each proved.

    `weight` is how heavy its numbers are; the lighter ones are asked first. `trial` is what a page needs to try answers on, `work` its
    worked solution (None: none was found).
    """

    values: tuple[tuple[str, int], ...]
    problem: Problem
    question: Question
    keys: tuple[KeyVerdict, ...]
    weight: float
    trial: Trial | None = None
    work: Work | None = None


@dataclass(frozen=True, slots=True)
class Skipped:
    """Why some choices of numbers are not asked (a phrase of the catalogue), how many they are, and one of them."""

    reason: str
    count: int
    example: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Family:
    """What a problem with `vary` gives: its file as it is written, its instances (the nicest first), and what was left out.

    `looked_at` is how many choices of numbers were tried; `with_letters` is the proof of the first key with letters in it, if any.
    """

    file: Problem
    instances: tuple[Instance, ...]
    skipped: tuple[Skipped, ...]
    looked_at: int
    with_letters: Checked | None = None


@dataclass(frozen=True, slots=True)
class Examined:
    """All that is known of one problem. A problem may be shown only when every key of it is right.

    `withheld` is set when only the question may be shown: to the day (`2027-03-01`) from which the rest may be, or "" for never.
    `trial` is what its page needs to try a student's answer on; None where nothing is proved, or no such data could be made.
    `work` is the solution that its page shows first: the author's own, or the method asked for first (None: there is none). `drawing`
    is what it looks like drawn.
    Of a family this is the nicest instance, with the problem as it reads with its numbers; `family` has the others.
    `methods` and `techniques` name those of the worked solutions, `used` also the rules that every method uses.
    `name` is that of the examination: the same name, the same result (empty: it may come out otherwise the next time). An examination
    that was kept from an earlier run brings `recall`: it is read only when something is asked of it that pages which were kept, too,
    do not need.
    """

    problem: Problem
    question: Question | None
    keys: tuple[KeyVerdict, ...] = ()
    derivation: Derivation | None = None
    checking: tuple[Line, ...] = ()
    hand: tuple[HandSolution, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()
    seconds: float = 0.0
    withheld: str | None = None
    trial: Trial | None = None
    work: Work | None = None
    drawing: Drawing | None = None
    family: Family | None = None
    methods: tuple[str, ...] = ()
    techniques: frozenset[str] = frozenset()
    used: frozenset[str] = frozenset()
    name: str = field(default="", compare=False)
    recall: Callable[[], Examined] | None = field(default=None, compare=False, repr=False)

    def __getattr__(self, name: str) -> object:
        """A field that is still empty: the whole examination is read now."""
        recall = None if name == "recall" else self.recall
        if recall is None or name not in type(self).__slots__:
            raise AttributeError(name)
        whole = recall()
        for each in fields(self):
            if each.compare:
                object.__setattr__(self, each.name, getattr(whole, each.name))
        return object.__getattribute__(self, name)

    @property
    def file(self) -> Problem:
        """The problem as its file is written."""
        return self.problem if self.family is None else self.family.file

    @property
    def sound(self) -> bool:
        """Nothing in the file is wrong: it may be published."""
        return not any(d.severity == "error" for d in self.diagnostics)


@dataclass(frozen=True, slots=True)
class MadeSet:
    """A set with its problems in the order in which they are dealt. `mixed`: no two neighbours begin alike, as was found."""

    source: PracticeSet
    problems: tuple[str, ...]
    mixed: bool

    @property
    def path(self) -> str:
        return self.source.path


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a contrast: the page of its problem, its question, and the solution that is set beside others."""

    path: str
    question: Question
    route: Route

    @property
    def method(self) -> str:
        return self.route.method


@dataclass(frozen=True, slots=True)
class Failure:
    """Why a method (a technique's id) does not solve the problem at `path`; `attempt` is a substitution that was tried there."""

    method: str
    path: str
    reason: Message
    attempt: Attempt | None = None


@dataclass(frozen=True, slots=True)
class MadeContrast:
    """A contrast with what was found of it.

    `shared` is what its questions have in common at first sight and `differs` the one place where they do not; `rows` are the lines of
    the solutions side by side (None: a gap), and `parting` is the first row in which they do different things; `failures` say why a
    method does not carry over; `between` are the constants between the answers of one question, and `same` says that there is but one.
    """

    source: Contrast
    sides: tuple[Side, ...]
    shared: tuple[Message, ...]
    differs: Message | None
    rows: tuple[tuple[Line | None, ...], ...]
    parting: int
    failures: tuple[Failure, ...] = ()
    between: tuple[Reconciliation, ...] = ()
    same: bool = False

    @property
    def path(self) -> str:
        return self.source.path


@dataclass(frozen=True, slots=True)
class Book:
    """Chapters in teaching order, their problems in the order of the pages, what is composed from them, and every diagnostic.

    `by_path` and `by_chapter` (a folder) find problems.
    """

    conventions: Conventions
    chapters: tuple[Chapter, ...]
    examined: tuple[Examined, ...]
    diagnostics: tuple[Diagnostic, ...]
    sets: tuple[MadeSet, ...] = ()
    lessons: tuple[Lesson, ...] = ()
    contrasts: tuple[MadeContrast, ...] = ()
    by_path: Mapping[str, Examined] = field(init=False, compare=False, repr=False)
    by_chapter: Mapping[str, tuple[Examined, ...]] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        chapters: dict[str, list[Examined]] = {}
        for examined in self.examined:
            chapters.setdefault(examined.problem.chapter, []).append(examined)
        object.__setattr__(self, "by_path", {examined.problem.path: examined for examined in self.examined})
        object.__setattr__(self, "by_chapter", {folder: tuple(found) for folder, found in chapters.items()})

    @property
    def errors(self) -> tuple[Diagnostic, ...]:
        """What has to be mended before anything is made of the book."""
        return tuple(d for d in self.diagnostics if d.severity == "error")

    @property
    def sound(self) -> bool:
        return not self.errors

    def problems_of(self, chapter: Chapter) -> tuple[Examined, ...]:
        return self.by_chapter.get(chapter.folder, ())

    def contrasts_of(self, chapter: Chapter) -> tuple[MadeContrast, ...]:
        """The contrasts that can be worked from this chapter on: the last of their problems is in it."""
        order = {each.folder: number for number, each in enumerate(self.chapters)}
        last = {made.path: max(order.get(page.rsplit("/", 1)[0], -1) for page in made.source.pages) for made in self.contrasts}
        return tuple(made for made in self.contrasts if last[made.path] == order[chapter.folder])
