"""What is printed, as data that knows no markup: words, formulas and blocks of them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from ...language import translator
from ...notation import ENGLISH
from ...notation.message import Message, Translate, fill
from ...notation.spoken import marked
from ...notation.tree import Integral, Node


@dataclass(frozen=True, slots=True)
class Maths:
    """A formula of ours in a sentence."""

    node: Node


@dataclass(frozen=True, slots=True)
class Tex:
    """A teacher's own TeX, as it stands between dollars."""

    source: str


@dataclass(frozen=True, slots=True)
class Bold:
    """Words that stand out."""

    text: str


Piece = str | Maths | Tex | Bold
Words = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Title:
    """The head of a sheet: what it is, a line below, whether there is room for name and date. It begins a new page."""

    text: str
    below: Words = ()
    signed: bool = False


@dataclass(frozen=True, slots=True)
class Heading:
    words: Words
    level: int = 2


@dataclass(frozen=True, slots=True)
class Paragraph:
    """`kind` is `plain`, `small`, `say` (a talking point) or `predict` (a question to ask first)."""

    words: Words
    kind: str = "plain"


@dataclass(frozen=True, slots=True)
class Question:
    """A numbered question, where it is asked, and the room below it in millimetres."""

    number: int
    formula: Node
    where: Words = ()
    room: int = 0


@dataclass(frozen=True, slots=True)
class Key:
    """The answers to a question; the question stands before them where it is not on the page already."""

    number: int
    answers: tuple[Node, ...]
    notes: Words = ()
    question: Node | None = None


@dataclass(frozen=True, slots=True)
class WorkedLine:
    """One line of a worked solution, as in `derive.route.Line`; `forms` are the sides of one between differentials."""

    shown: Node
    left: Node | None = None
    reason: Words = ()
    forms: tuple[Integral, Integral] | None = None


@dataclass(frozen=True, slots=True)
class Working:
    """A worked solution: its method, the expression that it begins with (None: it stands above already), its lines."""

    title: str
    opening: Node | None
    lines: tuple[WorkedLine, ...]


@dataclass(frozen=True, slots=True)
class Formulas:
    """A table of formulas: left = right, and for which letters it holds."""

    rows: tuple[tuple[Node, Node, Words], ...]


Block = Title | Heading | Paragraph | Question | Key | Working | Formulas


@dataclass(frozen=True, slots=True)
class Document:
    """One printed thing. `foot` stands at the foot of every page, `address` is where the page is on the web (empty: nowhere)."""

    title: str
    blocks: tuple[Block, ...]
    foot: str = ""
    address: str = ""
    language: str = "en"

    @property
    def tell(self) -> Translate:
        """Says a label in the language of the document."""
        return translator(self.language)


@dataclass(frozen=True, slots=True)
class _Kept:
    """Formulas taken out of a sentence while its words are filled in."""

    nodes: list[Node] = field(default_factory=list)

    def __call__(self, node: Node) -> str:
        self.nodes.append(node)
        return f"\0{len(self.nodes) - 1}\0"


def words_of(message: Message, translate: Translate = str) -> Words:
    """A sentence of the catalogue as words and formulas."""
    kept = _Kept()
    parts = fill(message, kept, translate).split("\0")
    return tuple(Maths(kept.nodes[int(part)]) if place % 2 else printed(part) for place, part in enumerate(parts) if part)


def in_words(formula: str, tell: Translate, comma: str = "{,}") -> str:
    """A printed formula with its numbers, and its answer in words where it is one (`diverges`), in the language that `tell` speaks.

    `comma` is how the printer writes one inside a number.
    """
    for word in (ENGLISH.diverges, ENGLISH.does_not_exist):
        formula = formula.replace(word, tell(word))
    return marked(formula, tell(ENGLISH.decimal), comma)


def filled(text: str, **parts: Words) -> Words:
    """A template of the catalogue, in whatever language, with words and formulas at its `{named}` places."""
    pieces = re.split(r"\{(\w+)\}", text)
    return tuple(each for n, piece in enumerate(pieces) for each in (parts[piece] if n % 2 else (printed(piece),)) if each)


_INLINE = re.compile(
    r"\$(?P<tex>[^$\n]+)\$|\*\*(?P<bold>[^*\n]+)\*\*|\*(?P<lean>[^*\n]+)\*|\[(?P<link>[^\]\n]*)\]\([^)\n]*\)|`(?P<code>[^`\n]+)`"
)


def words(text: str) -> Words:
    """A teacher's line of Markdown: TeX between dollars and words in bold are kept, links and the rest become plain words."""
    found: list[Piece] = []
    place = 0
    for match in _INLINE.finditer(text):
        found.append(printed(text[place : match.start()]))
        if match["tex"]:
            found.append(Tex(match["tex"].strip()))
        elif match["bold"]:
            found.append(Bold(printed(match["bold"])))
        else:
            found.append(printed(match["lean"] or match["link"] or match["code"] or ""))
        place = match.end()
    found.append(printed(text[place:]))
    return tuple(piece for piece in found if piece)


def paragraphs(markdown: str) -> tuple[Paragraph | Heading, ...]:
    """A teacher's Markdown as paragraphs and headings; items of lists keep their marks."""
    found: list[Paragraph | Heading] = []
    for part in re.split(r"\n\s*\n", markdown.strip()):
        for item in re.split(r"\n(?=\s*(?:[-*+]|\d+[.)])\s)", part):
            text = " ".join(item.split())
            head = re.match(r"#{1,6}\s+", text)
            if head:
                found.append(Heading(words(text[head.end() :]), 3))
            elif text:
                found.append(Paragraph(words(re.sub(r"^[-*+]\s", "• ", text))))
    return tuple(found)


def printed(text: str) -> str:
    """With a printer's apostrophes."""
    return text.replace("'", "’")
