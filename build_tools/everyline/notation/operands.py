"""Numbers, groups, fractions and roots."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from .message import say
from .powers import powers
from .tokens import CLOSING, LETTERS, STARTS, Token, pieces_to_tokens
from .tree import Absolute, Node, Number, Product, Quotient, Root

if TYPE_CHECKING:
    from .parser import Parser


def number(parser: Parser) -> Node:
    token = parser.take()
    values = token.value
    assert isinstance(values, tuple)
    if len(values) == 1:
        return values[0]  # type: ignore[no-any-return]
    message = say("This can be a number in thousands or one with decimals.")
    return values[parser.ask("thousands", token.start, message, end=token.end)]  # type: ignore[no-any-return]


def choice(parser: Parser) -> Node:
    token = parser.tokens[parser.i]
    readings = token.value
    assert isinstance(readings, tuple)
    picked = parser.ask("word", token.start, say("These letters can be read in two ways."), len(readings))
    parser.tokens[parser.i : parser.i + 1] = pieces_to_tokens(readings[min(picked, len(readings) - 1)], token.start, token.end, token.gap)
    return parser.operand()


def vulgar(parser: Parser) -> Node:
    top, bottom = parser.take().value  # type: ignore[misc]
    return Quotient(Number(Fraction(top)), Number(Fraction(bottom)))  # type: ignore[has-type]


def group(parser: Parser) -> Node:
    """Brackets of any kind; what is inside stands on its own."""
    opening = parser.take()
    held = parser.frame, parser.open_bars
    parser.frame, parser.open_bars = None, 0
    node = parser.sum()
    parser.frame, parser.open_bars = held
    parser.expect(CLOSING[opening.kind], opening)
    return node


def absolute(parser: Parser) -> Node:
    opening = parser.take()
    held = parser.frame, parser.open_bars
    parser.frame = None
    parser.open_bars = parser.open_bars + 1 if opening.kind == "|" else 0
    node = parser.sum()
    parser.frame, parser.open_bars = held
    parser.expect(CLOSING[opening.kind], opening, say("This bar is never closed."))
    return Absolute(node)


def fraction(parser: Parser) -> Node:
    parser.take()
    parser.fractions += 1
    top = braced(parser, keep_frame=True)
    parser.fractions -= 1
    return Quotient(top, braced(parser))


def braced(parser: Parser, keep_frame: bool = False) -> Node:
    r"""An argument of `\frac` or `\sqrt`: a group in braces, or one digit or letter."""
    token = parser.tokens[parser.i]
    if token.kind == "{":
        held = parser.frame, parser.open_bars
        parser.frame, parser.open_bars = (parser.frame if keep_frame else None), 0
        parser.take()
        node = parser.sum()
        parser.frame, parser.open_bars = held
        parser.expect("}", token, say("This brace is never closed."))
        return node
    if token.kind == "number":
        return first_digit(parser, token)
    if token.kind in LETTERS | {"infinity", "fraction", "root"}:
        return parser.operand()
    raise parser.fail("braces", say("Braces are missing here."), say(r"Write \frac{…}{…} or \sqrt{…}."))


def first_digit(parser: Parser, token: Token) -> Node:
    r"""As TeX does, `\frac12` takes one digit; what is left of the number is a token of its own."""
    (value,) = token.value if isinstance(token.value, tuple) and len(token.value) == 1 else (None,)
    if value is None or value.places:
        raise parser.fail("braces", say("Braces are missing here."), say(r"Write \frac{1.5}{2}."))
    digits = str(value.value)
    if len(digits) == 1:
        return parser.operand()
    rest = Token("number", (Number(Fraction(int(digits[1:]))),), token.start + 1, token.end, 0)
    parser.tokens[parser.i] = rest
    return Number(Fraction(int(digits[0])))


def root(parser: Parser) -> Node:
    token = parser.take()
    index = int(str(token.value)) if str(token.value or "").isdigit() else 2
    if parser.kind == "[" and token.value in ("\\", "sqrt"):
        opening = parser.take()
        held = parser.sum()
        parser.expect("]", opening)
        if not isinstance(held, Number) or held.places or not 2 <= held.value <= 99:
            raise parser.fail("root", say("The index of a root is a whole number from 2 to 99."), say(r"Write \sqrt[3]{x}."), opening)
        index = int(held.value)
    if token.value == "\\" and parser.kind == "number":
        whole = parser.tokens[parser.i]
        digits = whole.end - whole.start
        if digits > 1 and parser.ask("root", token.start, say("It is not clear how far the root goes.")) == 0:
            return Root(parser.operand(), index)
        return Root(first_digit(parser, whole), index)
    if parser.kind in ("{", "(") or token.value == "\\":
        return Root(braced(parser) if parser.kind == "{" or (token.value == "\\" and parser.kind != "(") else parser.operand(), index)
    return _bare_root(parser, token, index)


def _bare_root(parser: Parser, token: Token, index: int) -> Node:
    """`√x` and `sqrt x`: without brackets only one thing can be meant, or it is asked about."""
    inside = parser.operand()
    if parser.kind not in STARTS | {"^", "raised"} or parser.kind == "|" or parser.tokens[parser.i].gap == 2:
        return Root(inside, index)
    if parser.ask("root", token.start, say("It is not clear how far the root goes.")) == 0:
        return Root(inside, index)
    more = [powers(parser, inside, parser.i - 1) if parser.kind in ("^", "raised") else inside]
    while parser.kind in STARTS and parser.kind != "|":
        more.append(parser.factor())
    return Root(more[0] if len(more) == 1 else Product(tuple(more)), index)
