"""The regular expressions of the lexer."""

from __future__ import annotations

import re

from .words import GREEK as GREEK_WORDS
from .words import GREEK_SIGNS, SUPERSCRIPTS

GREEK = "|".join(sorted(GREEK_WORDS, key=len, reverse=True))
LETTER = (
    rf"(?:(?:{GREEK})(?![A-Za-z])|[A-Za-z]|\\(?:{GREEK})(?![A-Za-z])|[{''.join(GREEK_SIGNS)}])(?:_(?:\d+|\{{\w+\}}|[A-Za-z](?![A-Za-z])))?"
)
D = r"(?:d|\\(?:mathrm|operatorname|text|rm)\s*\{\s*d\s*\}|\{\s*\\rm\s+d\s*\})"
UP = r"(?:\^\s*\{?\s*(?P<%s>\d+)\s*\}?|(?P<%s>[²³]))?"
LATEX_DERIVATIVE = (
    rf"\\[dt]?frac\s*(?:\{{\s*{D}\s*{UP % ('a1', 'a2')}\s*(?P<a3>{LETTER})?\s*\}}|(?P<a4>d))\s*"
    rf"\{{\s*{D}\s*(?P<a5>{LETTER})\s*{UP % ('a6', 'a7')}\s*\}}"
)
PLAIN_DERIVATIVE = rf"(?<![A-Za-z\\])d\s*{UP % ('b1', 'b2')}(?P<b3>{LETTER})?\s*/\s*d(?P<b5>{LETTER})\s*{UP % ('b6', 'b7')}(?![A-Za-z_])"
DERIVATIVE = re.compile(f"{LATEX_DERIVATIVE}|{PLAIN_DERIVATIVE}")
DIFFERENTIAL = re.compile(rf"{D}\s*(?P<letter>{LETTER})(?![A-Za-z])")
UPRIGHT_DIFFERENTIAL = re.compile(rf"(?:\\(?:mathrm|operatorname|text|rm)\s*\{{\s*d\s*\}}|\{{\s*\\rm\s+d\s*\}})\s*(?P<letter>{LETTER})")
GREEK_AFTER_D = re.compile(rf"\s*(?P<letter>\\(?:{GREEK})(?![A-Za-z])|[{''.join(GREEK_SIGNS)}])")
BOUND = re.compile(
    rf"lim(?:\\limits)?\s*_\s*[{{(]?\s*(?P<limit>{LETTER})\s*(?:\\to(?![A-Za-z])|\\rightarrow|->|→)"
    rf"|_\s*[{{(]\s*(?P<bar>{LETTER})\s*="
)
INTEGRAL = re.compile(r"\\int(?![A-Za-z])|∫|(?<![A-Za-z\\])int(?![A-Za-z])")
SUBSCRIPT = re.compile(r"_(?:(\d+)|\{(\w+)\}|([A-Za-z])(?![A-Za-z]))")
NUMBER = re.compile(r"\d+(?:(?:[.,]|\{[.,]\})\d+)*|\.\d+")
NUMBER_IN_LIST = re.compile(r"\d+(?:\.\d+)?|\.\d+")
TOKEN = re.compile(
    r"(?P<space>\s+)"
    r"|(?P<gap>\\[,;: ]|~|\\(?:quad|qquad|thinspace|medspace|enspace)(?![A-Za-z]))"
    r"|(?P<nothing>\\!|\\(?:displaystyle|textstyle|limits|nolimits|left(?!\.)|right(?!\.)|[bB]igg?[lrm]?)(?![A-Za-z])|\{\})"
    r"|(?P<number>\d|\.\d)"
    r"|(?P<word>[A-Za-z]+)"
    r"|(?P<upright>\\(?:operatorname\*?|mathrm|text|textrm|mathit|mathop)\s*\{\s*(?P<inside>[^{}]*?)\s*\})"
    r"|(?P<command>\\(?:[A-Za-z]+|[{}|()\[\]]))"
    r"|(?P<symbol>\*\*|<=|>=|!=|->|[-+*/^()\[\]{}|,;_=<>])"
    rf"|(?P<raised>[{''.join(SUPERSCRIPTS)}]+)"
    rf"|(?P<other>.)",
    re.DOTALL,
)  # fmt: skip
SIZE_BEFORE = re.compile(r"\\(left|right|[bB]igg?(?P<side>[lr]?))\s*$")
COMMANDS = {
    "cdot": "*", "times": "*", "ast": "*", "div": "/", "lbrace": "(", "rbrace": ")", "{": "(", "}": ")",
    "lbrack": "[", "rbrack": "]", "to": "to", "rightarrow": "to", "cup": "union", "wedge": "and", "land": "and", "lor": "or", "vee": "or",
}  # fmt: skip
OTHERS = {"∞": "infinity", "√": "root", "∛": "root3", "∜": "root4", "∫": "integral", "→": "to", "∪": "union"}


def letter_name(text: str) -> str:
    r"""The plain name of a letter as written: `\theta` and `θ` are `theta`, `x_{12}` is `x_12`."""
    base, _, subscript = text.partition("_")
    base = GREEK_SIGNS.get(base, base.lstrip("\\"))
    return f"{base}_{subscript.strip('{}')}" if subscript else base
