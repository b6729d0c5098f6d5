"""A document as LaTeX, with nothing but the packages that every installation has."""

from __future__ import annotations

import re

from ...notation import latex
from ...notation.build import ONE
from ...notation.latex import before_differential, letter
from ...notation.tree import Node
from .model import Block, Bold, Document, Formulas, Heading, Key, Maths, Paragraph, Question, Tex, Title, Words, WorkedLine, Working

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
    foot = r"\bigskip\hrule\smallskip{\small " + r" \\ ".join(_text(part) for part in (document.foot, document.address) if part) + "}"
    body = [_block(block, first=number == 0) for number, block in enumerate(document.blocks)]
    return _HEAD.replace("{paper}", PAPERS[paper]) + "\n".join([*body, foot, r"\end{document}"]) + "\n"


def _text(text: str) -> str:
    return re.sub(r"[\\{}$&#%_~^<>•·]", lambda match: _SPECIAL[match[0]], text)


def _words(words: Words) -> str:
    made = []
    for piece in words:
        match piece:
            case Maths(node=node):
                made.append(f"${latex(node)}$")
            case Tex(source=source):
                made.append(f"${source}$")
            case Bold(text=text):
                made.append(rf"\textbf{{{_text(text)}}}")
            case _:
                made.append(_text(piece))
    return "".join(made)


def _display(node: Node, before: str = "") -> str:
    return rf"$\displaystyle {before}{latex(node)}$"


def _block(block: Block, *, first: bool) -> str:
    match block:
        case Title(text=text, below=below, signed=signed):
            lines = ["" if first else r"\newpage", rf"\section*{{{_text(text)}}}", _words(below)]
            lines.append(r"Name \hrulefill\quad Date \rule{3cm}{0.4pt}" if signed else "")
            return "\n\n".join(filter(None, lines)) + "\n"
        case Heading(words=words, level=level):
            return rf"\{'sub' * (level - 1)}section*{{{_words(words)}}}"
        case Paragraph(words=words, kind=kind):
            return {"say": r"\textit{Say:} ", "predict": r"\textit{Ask first:} ", "small": r"\small "}.get(kind, "") + _words(words) + "\n"
        case Question(number=number, formula=formula, where=where, room=room):
            said = rf"\textbf{{{number}.}} {_display(formula)}" + (rf" \quad {_words(where)}" if where else "")
            return said + (rf" \par\vspace{{{room}mm}}" if room else "") + "\n"
        case Key():
            return _key(block)
        case Working(title=title, opening=opening, lines=lines):
            rows = [*([] if opening is None else [latex(opening)]), *map(_line, lines)]
            return rf"\textit{{{_text(title)}}}" + "\n\\begin{align*}\n& " + " \\\\\n& ".join(rows) + "\n\\end{align*}"
        case Formulas(rows=pairs):
            rows = [
                f"{latex(left)} &= {latex(right)}" + (rf" && \text{{{_words(where)}}}" if where else "") for left, right, where in pairs
            ]
            return "\\begin{align*}\n" + " \\\\\n".join(rows) + "\n\\end{align*}"


def _key(key: Key) -> str:
    asked = "" if key.question is None else f"{_display(key.question)} \\quad "
    said = " or ".join(_display(answer) for answer in key.answers)
    return rf"\textbf{{{key.number}.}} {asked}{said}" + (rf" \quad {_words(key.notes)}" if key.notes else "") + "\n"


def _line(line: WorkedLine) -> str:
    if line.kind == "differential" and line.left is not None:
        factor = "" if line.shown == ONE else rf"{before_differential(line.shown)}\,"
        said = rf"\quad d{latex(line.left)} = {factor}d{letter(line.variable)}"
    else:
        said = f"{latex(line.left) + ' ' if line.left is not None else ''}= {latex(line.shown)}"
        said = rf"\quad {said}" if line.left is not None else said
    reason = _words(line.reason)
    return said + (rf" && \text{{{reason}}}" if reason else "")
