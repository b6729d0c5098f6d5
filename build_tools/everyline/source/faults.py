"""What can be wrong with a file before any mathematics: facts with their places. `diagnostics` puts them into words.

Each fact names its code; the module of that name in `diagnostics/kinds/` explains it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ..notation.message import Message
from .span import Span


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong at `span`."""

    code: ClassVar[str]
    span: Span


@dataclass(frozen=True, slots=True)
class UnknownField(Fault):
    """A field that does not exist (in the front matter, or inside the field `within`); `nearest` is the valid name meant, or empty."""

    code: ClassVar[str] = "field-unknown"
    name: str
    nearest: str
    known: tuple[str, ...]
    within: str = ""


@dataclass(frozen=True, slots=True)
class MissingField(Fault):
    code: ClassVar[str] = "field-missing"
    name: str
    within: str = ""


@dataclass(frozen=True, slots=True)
class EmptyField(Fault):
    """A required field that is there and says nothing."""

    code: ClassVar[str] = "field-empty"
    name: str


@dataclass(frozen=True, slots=True)
class DuplicateField(Fault):
    code: ClassVar[str] = "field-twice"
    name: str
    first: Span


@dataclass(frozen=True, slots=True)
class WrongType(Fault):
    """A value of the wrong shape. `wanted` and `found` are phrases of the catalogue (`one value`, `a list`)."""

    code: ClassVar[str] = "field-shape"
    name: str
    wanted: str
    found: str
    example: str


@dataclass(frozen=True, slots=True)
class BadValue(Fault):
    """A value that is not one of those allowed; `allowed` says in words which are."""

    code: ClassVar[str] = "field-value"
    name: str
    value: str
    allowed: Message
    nearest: str = ""


@dataclass(frozen=True, slots=True)
class UnknownMethod(Fault):
    code: ClassVar[str] = "method-unknown"
    field: str
    name: str
    nearest: str
    known: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class YamlTrap(Fault):
    """A value that YAML reads otherwise than it looks. `kind` says how (the catalogue is in `traps.py`); `raw` is what was typed."""

    code: ClassVar[str] = "value-needs-quotes"
    name: str
    kind: str
    raw: str


@dataclass(frozen=True, slots=True)
class BadYaml(Fault):
    """Front matter that YAML cannot read, for none of the usual reasons; `problem` is what its reader says."""

    code: ClassVar[str] = "front-matter-unreadable"
    problem: Message


@dataclass(frozen=True, slots=True)
class BadLine(Fault):
    """A line of the front matter that is not `field: value`; `space` when only the space after the colon is missing."""

    code: ClassVar[str] = "front-matter-line"
    raw: str
    space: bool = False


@dataclass(frozen=True, slots=True)
class NoFrontMatter(Fault):
    """No `---` on the first line; `late` when it comes further down."""

    code: ClassVar[str] = "front-matter-missing"
    late: bool = False


@dataclass(frozen=True, slots=True)
class UnclosedFrontMatter(Fault):
    code: ClassVar[str] = "front-matter-unclosed"


@dataclass(frozen=True, slots=True)
class TabIndent(Fault):
    code: ClassVar[str] = "tab-indent"


@dataclass(frozen=True, slots=True)
class BadEncoding(Fault):
    """Bytes that are not UTF-8; `guess` is what the file seems to be saved as, or empty."""

    code: ClassVar[str] = "encoding"
    guess: str = ""


@dataclass(frozen=True, slots=True)
class OddCharacter(Fault):
    """A character that cannot be seen and has no business in a text; `character` is its number as `U+0000`."""

    code: ClassVar[str] = "odd-character"
    character: str


@dataclass(frozen=True, slots=True)
class TooLarge(Fault):
    """A `file`, its `front matter`, `book.yml` or one `line` (`what`) over the limit; sizes in bytes for a file, else in characters."""

    code: ClassVar[str] = "too-large"
    what: str
    size: int
    limit: int


@dataclass(frozen=True, slots=True)
class RawHtml(Fault):
    """HTML or a script in a text that is to be written in plain words or Markdown; `where` is the field, or empty for the prose."""

    code: ClassVar[str] = "raw-html"
    tag: str
    where: str = ""


@dataclass(frozen=True, slots=True)
class BadLink(Fault):
    """A link that leads out of the book's folder (`outside`) or is not a web address."""

    code: ClassVar[str] = "link-refused"
    target: str
    outside: bool = False


@dataclass(frozen=True, slots=True)
class UnclosedBlock(Fault):
    code: ClassVar[str] = "lines-unclosed"
    fence: str


@dataclass(frozen=True, slots=True)
class EmptyBlock(Fault):
    code: ClassVar[str] = "lines-empty"


@dataclass(frozen=True, slots=True)
class UnknownBlock(Fault):
    """A fenced block whose name is almost `lines`: its solution would go unchecked."""

    code: ClassVar[str] = "lines-misspelt"
    name: str


@dataclass(frozen=True, slots=True)
class BadBlockLine(Fault):
    """A line of a `lines` block without the formula that its beginning promises (`let u =`, `= ; why`).

    `kind` is `let` or `nothing-after`.
    """

    code: ClassVar[str] = "lines-malformed"
    kind: str


@dataclass(frozen=True, slots=True)
class UnknownStep(Fault):
    """A fenced block of a lesson whose name is almost that of a step: it would be shown as plain text."""

    code: ClassVar[str] = "lesson-step"
    name: str
    nearest: str


@dataclass(frozen=True, slots=True)
class LessonLine(Fault):
    """Something wrong in a step of a lesson; `kind` is `target` (it does not say which page) or `field` (not `name: words`)."""

    code: ClassVar[str] = "lesson-line"
    kind: str
    step: str


@dataclass(frozen=True, slots=True)
class RefusedFile(Fault):
    """A file that is not read at all: `why` is `outside` (a link that leaves the book), `linked-folder`, `not-a-file`,
    `unreadable`, `name` (odd characters in it) or `no-chapter` (a problem in a folder without an `index.md`)."""

    code: ClassVar[str] = "file-refused"
    why: str


@dataclass(frozen=True, slots=True)
class BadLetter(Fault):
    """A name under `vary` that cannot be a letter of a family: `why` is `name` (no letter), `taken` (e, C, d) or `many`."""

    code: ClassVar[str] = "vary-letter"
    name: str
    why: str


@dataclass(frozen=True, slots=True)
class BadRange(Fault):
    """The values of a letter: `why` is `form`, `backwards` (`9..2`), `large` or `empty` (nothing is left)."""

    code: ClassVar[str] = "vary-range"
    name: str
    value: str
    why: str
