"""What the lexer hands to the parser."""

from __future__ import annotations

from typing import NamedTuple

from .message import sentence
from .words import Piece

LETTERS = frozenset(("name", "constant", "arbitrary"))
STARTS = LETTERS | {
    "function", "choice", "(", "[", "{", "|", "bar(", "root", "fraction", "infinity", "vulgar",
    "integral", "derivative", "limit", "leftdot",
}  # fmt: skip
SLASH_FREE = frozenset(("integral", "derivative", "limit", "leftdot"))
CLOSING = {"(": ")", "[": "]", "{": "}", "bar(": "bar)", "|": "|", "leftdot": "bar)"}
#: What a kind of token is called, where its sign does not say it.
SAYS = {
    "end": sentence("the end"),
    "relation": sentence("a comparison"),
    "differential": "dx",
    "to": sentence("an arrow"),
    "raised": sentence("a raised number"),
    "|": "|",
    "bar)": "|",
}


class Token(NamedTuple):
    """`gap` is the white space before it: 0 none, 1 as typed, 2 a printed one such as `\\,`."""

    kind: str
    value: object
    start: int
    end: int
    gap: int


def pieces_to_tokens(pieces: tuple[Piece, ...], start: int, end: int, gap: int) -> list[Token]:
    """The tokens of a word that has been split; the last one takes what is left of the word's width."""
    tokens = []
    for place, (kind, value) in enumerate(pieces):
        width = len(value) + (kind == "differential")
        stop = end if place == len(pieces) - 1 else start + width
        tokens.append(Token(kind, value, start, stop, gap if place == 0 else 0))
        start = stop
    return tokens
