"""A document as LaTeX, with nothing but the packages that every installation has."""

from __future__ import annotations

import re

from ...notation import latex
from ...notation.build import ONE
from ...notation.latex import before_differential, letter
from ...notation.message import Translate
from ...notation.tree import Integral, Node
from .model import (
    Block,
    Bold,
    Document,
    Formulas,
    Heading,
    Key,
    Maths,
    Paragraph,
    Piece,
    Question,
    Tex,
    Title,
    Words,
    WorkedLine,
    Working,
    in_words,
)  # fmt: skip

PAPERS = {"a4": "a4paper", "letter": "letterpaper"}
_SPECIAL = {
    "\\": r"\textbackslash{}", "{": r"\{", "}": r"\}", "$": r"\$", "&": r"\&", "#": r"\#", "%": r"\%", "_": r"\_",
    "~": r"\textasciitilde{}", "^": r"\textasciicircum{}", "<": r"\textless{}", ">": r"\textgreater{}",
    "•": r"\textbullet{}", "·": r"\textperiodcentered{}",
}  # fmt: skip
_HEAD = r"""\documentclass[11pt,{paper}]{article}
\usepackage[T1]{fontenc}
\usepackage[utf8]{inputenc}
\usepackage{amsmath,textcomp}
\setlength{\parindent}{0pt}
\setlength{\parskip}{6pt}
\begin{document}
"""


def tex(document: Document, paper: str = "a4") -> str:
    """A LaTeX document that compiles as it is; its parts can be pasted into another."""
    writer = _Writer(document.tell)
    foot = r"\bigskip\hrule\smallskip{\small " + r" \\ ".join(_text(part) for part in (document.foot, document.address) if part) + "}"
    body = [writer.block(block, first=number == 0) for number, block in enumerate(document.blocks)]
    return _HEAD.replace("{paper}", PAPERS[paper]) + "\n".join([*body, foot, r"\end{document}"]) + "\n"


def _text(text: str) -> str:
    return re.sub(r"[\\{}$&#%_~^<>•·]", lambda match: _SPECIAL[match[0]], text)


def _differential(form: Integral) -> str:
    factor = "" if form.integrand == ONE else rf"{before_differential(form.integrand)}\,"
    return f"{factor}d{letter(form.variable)}"


class _Writer:
    """`tell` says a label in the language of the document."""

    def __init__(self, tell: Translate) -> None:
        self.tell = tell

    def show(self, node: Node) -> str:
        return in_words(latex(node), self.tell)

    def words(self, words: Words) -> str:
        return "".join(map(self._piece, words))

    def _piece(self, piece: Piece) -> str:
        match piece:
            case Maths(node=node):
                return f"${self.show(node)}$"
            case Tex(source=source):
                return f"${source}$"
            case Bold(text=text):
                return rf"\textbf{{{_text(text)}}}"
            case _:
                return _text(piece)

    def display(self, node: Node) -> str:
        return rf"$\displaystyle {self.show(node)}$"

    def block(self, block: Block, *, first: bool) -> str:
        match block:
            case Title(text=text, below=below, signed=signed):
                lines = ["" if first else r"\newpage", rf"\section*{{{_text(text)}}}", self.words(below)]
                lines.append(
                    rf"{_text(self.tell('Name'))} \hrulefill\quad {_text(self.tell('Date'))} \rule{{3cm}}{{0.4pt}}" if signed else ""
                )
                return "\n\n".join(filter(None, lines)) + "\n"
            case Heading(words=words, level=level):
                return rf"\{'sub' * (level - 1)}section*{{{self.words(words)}}}"
            case Paragraph(words=words, kind=kind):
                labels = {"say": rf"\textit{{{_text(self.tell('Say:'))}}} ", "predict": rf"\textit{{{_text(self.tell('Ask first:'))}}} "}
                return (labels | {"small": r"\small "}).get(kind, "") + self.words(words) + "\n"
            case Question(number=number, formula=formula, where=where, room=room):
                said = rf"\textbf{{{number}.}} {self.display(formula)}" + (rf" \quad {self.words(where)}" if where else "")
                return said + (rf" \par\vspace{{{room}mm}}" if room else "") + "\n"
            case Key():
                return self._key(block)
            case Working(title=title, opening=opening, lines=lines):
                rows = [*([] if opening is None else [self.show(opening)]), *map(self._line, lines)]
                return rf"\textit{{{_text(title)}}}" + "\n\\begin{align*}\n& " + " \\\\\n& ".join(rows) + "\n\\end{align*}"
            case Formulas(rows=pairs):
                return "\\begin{align*}\n" + " \\\\\n".join(map(self._formula, pairs)) + "\n\\end{align*}"

    def _formula(self, row: tuple[Node, Node, Words]) -> str:
        left, right, where = row
        return f"{self.show(left)} &= {self.show(right)}" + (rf" && \text{{{self.words(where)}}}" if where else "")

    def _key(self, key: Key) -> str:
        asked = "" if key.question is None else f"{self.display(key.question)} \\quad "
        said = f" {_text(self.tell('or'))} ".join(map(self.display, key.answers))
        return rf"\textbf{{{key.number}.}} {asked}{said}" + (rf" \quad {self.words(key.notes)}" if key.notes else "") + "\n"

    def _line(self, line: WorkedLine) -> str:
        if line.forms is not None:
            said = r"\quad " + in_words(" = ".join(map(_differential, line.forms)), self.tell)
        else:
            said = f"{self.show(line.left) + ' ' if line.left is not None else ''}= {self.show(line.shown)}"
            said = rf"\quad {said}" if line.left is not None else said
        # A \text does not break; a sentence beside a line would run off the paper.
        reason = self.words(line.reason)
        return said + (rf" && \parbox[c]{{0.4\linewidth}}{{\raggedright\small {reason}}}" if reason else "")
