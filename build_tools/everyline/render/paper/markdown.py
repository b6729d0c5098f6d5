"""A document as Markdown with TeX between dollars, or, with formulas in plain characters, as text for a terminal."""

from __future__ import annotations

from collections.abc import Callable

from ...notation import latex, plain
from ...notation.build import ONE
from ...notation.latex import before_differential as latex_before
from ...notation.message import Translate
from ...notation.plain import before_differential as plain_before
from ...notation.tree import Integral, Name, Node
from .model import (
    Block,
    Bold,
    Document,
    Formulas,
    Heading,
    Key,
    Maths,
    Paragraph,
    Question,
    Tex,
    Title,
    Words,
    WorkedLine,
    Working,
    in_words,
)  # fmt: skip


class _Writer:
    """`maths` sets a piece of TeX or text as a formula, `print_` prints a tree as such a piece
    (with `comma` for one inside a number), `tell` speaks the document's language."""

    def __init__(self, print_: Callable[[Node], str], comma: str, maths: Callable[[str], str], bold: str, tell: Translate) -> None:
        self.print, self.comma, self.maths, self.bold, self.tell = print_, comma, maths, bold, tell

    def show(self, node: Node) -> str:
        return in_words(self.print(node), self.tell, self.comma)

    def words(self, words: Words) -> str:
        return "".join(self._piece(piece) for piece in words)

    def _piece(self, piece: object) -> str:
        match piece:
            case Maths(node=node):
                return self.maths(self.show(node))
            case Tex(source=tex):
                return self.maths(tex)
            case Bold(text=text):
                return f"{self.bold}{text}{self.bold}"
        return str(piece)

    def block(self, block: Block) -> str:
        match block:
            case Title(text=text, below=below, signed=signed):
                to_sign = f"{self.tell('Name')} ____________________  {self.tell('Date')} __________"
                lines = [f"# {text}", self.words(below), to_sign if signed else ""]
                return "\n\n".join(filter(None, lines))
            case Heading(words=words, level=level):
                return f"{'#' * level} {self.words(words)}"
            case Paragraph(words=words, kind=kind):
                return {"say": "> ", "predict": f"{self.tell('Ask first:')} "}.get(kind, "") + self.words(words)
            case Question(number=number, formula=formula, where=where):
                return f"{number}. {self.maths(self.show(formula))}" + (f" ({self.words(where)})" if where else "")
            case Key(number=number, answers=answers, notes=notes, question=question):
                said = f" {self.tell('or')} ".join(self.maths(self.show(answer)) for answer in answers)
                asked = "" if question is None else f"{self.maths(self.show(question))}: "
                return f"{number}. {asked}{said}" + (f" ({self.words(notes)})" if notes else "")
            case Working(title=title, opening=opening, lines=lines):
                rows = [*([] if opening is None else [f"- {self.maths(self.show(opening))}"]), *map(self.line, lines)]
                return (f"{self.bold}{title}{self.bold}\n\n" if title else "") + "\n".join(rows)
            case Formulas(rows=pairs):
                return "\n".join(map(self.formula, pairs))

    def formula(self, row: tuple[Node, Node, Words]) -> str:
        left, right, where = row
        return f"- {self.maths(f'{self.show(left)} = {self.show(right)}')}" + (f" ({self.words(where)})" if where else "")

    def differential(self, form: Integral) -> str:
        before, space = (latex_before, r"\,") if self.print is latex else (plain_before, " ")
        factor = "" if form.integrand == ONE else f"{before(form.integrand)}{space}"
        return f"{factor}d{self.print(Name(form.variable))}"

    def line(self, line: WorkedLine) -> str:
        if line.forms is not None:
            said = in_words(" = ".join(map(self.differential, line.forms)), self.tell, self.comma)
        else:
            said = f"{self.show(line.left) + ' ' if line.left is not None else ''}= {self.show(line.shown)}"
        reason = self.words(line.reason)
        return f"  - {self.maths(said)}" + (f" — {reason}" if reason else "")


def markdown(document: Document) -> str:
    """Markdown with `$…$`, for a teacher's own documents."""
    return _all(document, _Writer(latex, "{,}", lambda tex: f"${tex}$", "**", document.tell))


def text(document: Document) -> str:
    """Plain text, formulas as they are typed."""
    return _all(document, _Writer(plain, ",", str, "", document.tell))


def _all(document: Document, writer: _Writer) -> str:
    foot = "\n\n".join(filter(None, (document.foot, document.address)))
    return "\n\n".join([*map(writer.block, document.blocks), "---", foot]).rstrip() + "\n"
