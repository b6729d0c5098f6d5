"""A teacher's TeX as Typst mathematics: by way of MathML, which `math-core` makes of it."""

from __future__ import annotations

import re
from html import unescape
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from math_core import LatexError

from ..prose import teachers_mathml

#: Signs that Typst would take for markup, by their names.
_SIGNS = {
    "(": "paren.l", ")": "paren.r", "[": "bracket.l", "]": "bracket.r", "{": "brace.l", "}": "brace.r", "|": "bar.v", "/": "slash",
    ",": "comma", ";": "semi", ":": "colon", "#": "hash", "$": "dollar", "\\": "backslash", "_": '"_"', "^": "hat", "&": "amp",
    ".": "dot.basic", '"': '"\\""', "'": "prime", "′": "prime",
}  # fmt: skip
#: An argument without anything in it would be none.
_NOTHING = '""'
_SCRIPTS = {"msub": "_", "msup": "^", "munder": "_", "mover": "^"}
_BOTH = ("msubsup", "munderover")
_ENTITY = re.compile(r"&(?!(?:amp|lt|gt|quot|apos|#\d+|#x[0-9a-fA-F]+);)\w+;")


def teachers_tex(source: str) -> str | None:
    """Typst mathematics without dollars, or None where the TeX cannot be read or has something that paper is not ready for."""
    try:
        return _inside(ElementTree.fromstring(_ENTITY.sub(lambda m: unescape(m[0]), teachers_mathml(source))))
    except (LatexError, ElementTree.ParseError, _Unknown):
        return None


class _Unknown(Exception):
    """An element that has no counterpart here."""


def _inside(part: Element) -> str:
    return " ".join(filter(None, map(_typst, part)))


def _typst(part: Element) -> str:
    text = (part.text or "").strip("\u2061\u2062\u2063\u2064")
    match part.tag:
        case "mi" | "mn" | "mo":
            return _token(text, part.tag)
        case "mtext" | "ms":
            return f'"{_quoted(part.text or "")}"'
        case "mspace":
            return "thin" if part.get("width", "").startswith("0.") else "quad" if part.get("width") else ""
        case "mrow" | "mstyle" | "mpadded":
            return _inside(part)
        case "mfrac":
            return f"frac({_argument(part[0])}, {_argument(part[1])})"
        case "msqrt":
            return f"sqrt({_inside(part) or _NOTHING})"
        case "mroot":
            return f"root({_argument(part[1])}, {_argument(part[0])})"
    if part.tag in _SCRIPTS:
        return f"{_base(part[0])}{_SCRIPTS[part.tag]}({_argument(part[1])})"
    if part.tag in _BOTH:
        return f"{_base(part[0])}_({_argument(part[1])})^({_argument(part[2])})"
    raise _Unknown(part.tag)


def _argument(part: Element) -> str:
    return _typst(part) or _NOTHING


def _base(part: Element) -> str:
    made = _argument(part)
    return made if " " not in made else f"({made})" if made.startswith("(") else f"lr({made})"


def _token(text: str, tag: str) -> str:
    if len(text) > 1 and tag == "mi":
        return f'op("{_quoted(text)}")'
    if len(text) > 1 and not re.fullmatch(r"[0-9.]+", text):
        return f'"{_quoted(text)}"'
    if text in _SIGNS or not text.isascii() or text.isalnum() or text in "+-=<>!*":
        return _SIGNS.get(text, text)
    return f'"{_quoted(text)}"'


def _quoted(text: str) -> str:
    return text.replace("\xa0", " ").replace("\\", "\\\\").replace('"', '\\"')
