"""A problem file as data: what the front matter says, each piece with its place. Formulas are still text here."""

from __future__ import annotations

from dataclasses import dataclass

from .paths import page_name
from .span import Span, Text
from .vary import Vary


@dataclass(frozen=True, slots=True)
class HandLine:
    """One line of a hand-written solution: its formula, its place, and the reason after `;`.

    `kind`: `formula` (a new formula), `continued` (`= …`, equal to the line before, or to the question), `let` (`let u = …`,
    `x = 2\\tan\\theta`, `I = …`: `left` is the name), `differential` (`du = …`, `x\\,dx = \\frac12 du`: `left` is what stands
    before the `=`), `note` (a reason alone, the formula empty). A chain `A = B = C` on one line is a `formula` and two
    `continued` lines.
    """

    formula: Text
    reason: str = ""
    kind: str = "formula"
    left: Text | None = None


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced `lines` block: a hand-written solution, checked line by line."""

    span: Span
    lines: tuple[HandLine, ...]


@dataclass(frozen=True, slots=True)
class Problem:
    """A problem file that could be read. `path` is relative to the content folder (`<chapter>/<slug>.md`)."""

    path: str
    question: Text
    keys: tuple[Text, ...]
    title: Text | None = None
    level: int = 1
    methods: tuple[Text, ...] = ()
    u: Text | None = None
    domain: Text | None = None
    given: Text | None = None
    hints: tuple[Text, ...] = ()
    needs: tuple[Text, ...] = ()
    vary: Vary | None = None
    vouched: tuple[Text, Text] | None = None
    release: Text | None = None
    author: Text | None = None
    source: Text | None = None
    license: Text | None = None
    video: Text | None = None
    times: tuple[Text, ...] = ()
    prose: str = ""
    blocks: tuple[Block, ...] = ()

    @property
    def chapter(self) -> str:
        return self.path.rsplit("/", 1)[0] if "/" in self.path else ""

    @property
    def slug(self) -> str:
        return page_name(self.path)


@dataclass(frozen=True, slots=True)
class Chapter:
    """A folder of problems: what its `index.md` says."""

    folder: str
    title: str
    order: int
    introduces: tuple[Text, ...]
    prose: str = ""


@dataclass(frozen=True, slots=True)
class Erratum:
    """Something that was put right: the day (`2027-03-01`), the path of the page, what it was, and where the page is named."""

    day: str
    page: str
    said: str
    place: Span


@dataclass(frozen=True, slots=True)
class Conventions:
    """What `book.yml` says. `log` is `natural`, `10` or `ask`; `decimal` is `point` or `comma`; `constant` is `warning` or `error`.

    `dated` is the day of the edition (`2027-03-01`), `address` where the book is on the web, with a `/` at its end; each may be empty.
    """

    title: str = "Practice book"
    log: str = "ask"
    decimal: str = "point"
    constant: str = "warning"
    language: str = "en"
    edition: str = ""
    license: str = ""
    dated: str = ""
    address: str = ""
    errata: tuple[Erratum, ...] = ()
