"""A document as Typst source."""

from __future__ import annotations

from ...notation.build import ONE
from ...notation.tree import Integral, Node
from ...notation.typst import before_differential, letter, typst
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
from .qr import qr
from .teachers_tex import teachers_tex

PAPERS = {"a4": "a4", "letter": "us-letter"}

_STYLE = """\
#set text(font: "Libertinus Serif", size: 11pt, lang: {language}, hyphenate: false)
#show math.equation: set text(font: "New Computer Modern Math", top-edge: "bounds", bottom-edge: "bounds")
#set page(paper: {paper}, margin: (x: 2cm, top: 1.8cm, bottom: 2cm), footer: context [
  #set text(size: 8pt, fill: luma(35%))
  #{foot}; #h(1fr) #counter(page).display()
])
#set par(leading: 0.6em, spacing: 0.8em)
#let line-to-fill(width) = box(width: width, baseline: 2pt, line(length: 100%, stroke: 0.5pt))
#let reason(body) = text(size: 9pt, fill: luma(30%), body)
#let numbered(number, body) = grid(columns: (1.9em, 1fr), text(weight: "bold")[#number.], body)
#let rows(..cells) = pad(left: 1.9em, grid(columns: (3fr, 2fr), column-gutter: 1em, row-gutter: 0.8em, align: horizon, ..cells))
"""


def source(document: Document, paper: str = "a4") -> str:
    """The Typst source of a document, for paper of the sizes `PAPERS`."""
    style = (
        _STYLE.replace("{language}", _text(document.language))
        .replace("{paper}", _text(PAPERS[paper]))
        .replace("{foot}", _text(" · ".join(filter(None, (document.foot, document.address)))))
    )
    head = f"#set document(title: {_text(document.title)})\n" + style
    writer = _Writer(document)
    after = (*document.blocks[1:], None)
    pairs = zip(document.blocks, after, strict=True)
    blocks = [writer.block(block, first=number == 0, held=isinstance(then, Working)) for number, (block, then) in enumerate(pairs)]
    return head + "\n".join(blocks) + "\n"


def _text(text: str) -> str:
    """A string of Typst's own: nothing in it is markup."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ") + '"'


def _plain(text: str) -> str:
    return f"#{_text(text)};"


def _differential(form: Integral) -> str:
    factor = "" if form.integrand == ONE else f"{before_differential(form.integrand)} thin "
    return f"{factor}d {letter(form.variable)}"


class _Writer:
    """Writes the blocks of a document in its language."""

    def __init__(self, document: Document) -> None:
        self.document = document

    def show(self, node: Node) -> str:
        return in_words(typst(node), self.document.tell, '","')

    def tell(self, label: str) -> str:
        return _plain(self.document.tell(label))

    def words(self, words: Words) -> str:
        made = []
        for piece in words:
            match piece:
                case Maths(node=node):
                    made.append(self._maths(node))
                case Tex(source=tex):
                    converted = teachers_tex(tex)
                    made.append(f"#raw({_text(tex)});" if converted is None else f"${converted}$")
                case Bold(text=text):
                    made.append(f"#strong({_text(text)});")
                case _:
                    made.append(_plain(piece))
        return "".join(made)

    def _maths(self, node: Node, *, before: str = "", after: str = "", display: bool = False) -> str:
        inside = f"{before}{self.show(node)}{after}"
        return f"$display({inside})$" if display else f"${inside}$"

    def block(self, block: Block, *, first: bool, held: bool) -> str:
        """A block; `held`: its working follows, and no page ends between them."""
        match block:
            case Title():
                return self._title(block, first=first)
            case Heading(words=words, level=level):
                return f"#heading(level: {level})[{self.words(words)}]"
            case Paragraph():
                return self._paragraph(block)
            case Question(number=number, formula=formula, where=where, room=room):
                asked = self._maths(formula, display=True) + (f" #h(0.6em) #reason[{self.words(where)}]" if where else "")
                return f"#block(breakable: false, spacing: 1.1em)[#numbered({number})[{asked}] #v({room}mm)]"
            case Key():
                return self._key(block, held)
            case Working():
                return self._working(block)
            case Formulas(rows=rows):
                cells = "".join(
                    f"[{self._maths(left, display=True)}], [{self._maths(right, display=True, before='= ')}], reason[{self.words(where)}],"
                    for left, right, where in rows
                )
                return f"#grid(columns: (auto, auto, 1fr), column-gutter: 0.6em, row-gutter: 0.7em, align: horizon, {cells})"

    def _title(self, title: Title, *, first: bool) -> str:
        new_page = "" if first else "#pagebreak()\n#counter(page).update(1)\n"
        signed = (
            f"#v(0.3em)\n{self.tell('Name')} #line-to-fill(1fr) #h(0.8em) {self.tell('Date')} #line-to-fill(3.5cm)" if title.signed else ""
        )
        below = f"#reason[{self.words(title.below)}]" if title.below else ""
        address = _text(self.document.address)
        picture = (
            f'#image(bytes({_text(qr(self.document.address))}), format: "svg", width: 1.9cm, alt: {address})'
            if self.document.address
            else ""
        )
        left = f"#heading(level: 1)[{_plain(title.text)}]\n{below}\n{signed}"
        rule = "#line(length: 100%, stroke: 0.6pt)\n#v(0.4em)"
        return f"{new_page}#grid(columns: (1fr, auto), column-gutter: 1em, [{left}], [{picture}])\n{rule}"

    def _paragraph(self, block: Paragraph) -> str:
        inside = self.words(block.words)
        match block.kind:
            case "small":
                return f"#reason[{inside}]\n"
            case "say":
                return f"#block(inset: (left: 0.9em), stroke: (left: 1.2pt))[{inside}]\n"
            case "predict":
                return f"#block(fill: luma(93%), inset: 0.6em, radius: 2pt, width: 100%)[#reason[{self.tell('Ask first.')}] {inside}]\n"
        return f"#par[{inside}]\n"

    def _key(self, key: Key, held: bool) -> str:
        before = "" if key.question is None else f"{self._maths(key.question, display=True)} #h(1.6em) "
        answers = f" #h(0.6em) {self.tell('or')} #h(0.6em) ".join(self._maths(answer, display=True) for answer in key.answers)
        notes = f" #h(0.6em) #reason[{self.words(key.notes)}]" if key.notes else ""
        sticky = ", sticky: true" if held else ""
        return f"#block(breakable: false, spacing: 0.9em{sticky})[#numbered({key.number})[{before}{answers}{notes}]]"

    def _working(self, working: Working) -> str:
        opening = [] if working.opening is None else [f"[{self._maths(working.opening, display=True)}], []"]
        rows = ",\n".join([*opening, *map(self._line, working.lines)])
        title = f"#block(above: 1em, below: 0.8em, sticky: true, pad(left: 1.9em, emph({_text(working.title)})))" if working.title else ""
        return f"{title}\n#rows({rows})\n#v(0.5em)"

    def _line(self, line: WorkedLine) -> str:
        if line.forms is not None:
            sides = in_words(" = ".join(map(_differential, line.forms)), self.document.tell, '","')
            formula = f"#h(1.2em) $display({sides})$"
        elif line.left is not None:
            formula = f"#h(1.2em) {self._maths(line.shown, display=True, before=f'{self.show(line.left)} = ')}"
        else:
            formula = self._maths(line.shown, display=True, before="= ")
        return f"[{formula}], reason[{self.words(line.reason)}]"
