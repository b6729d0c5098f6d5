"""Powers: how far a bare exponent goes, and what is asked about."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from .build import ONE, names
from .message import say
from .tokens import LETTERS, Token
from .tree import Constant, Negative, Node, Number, Power, Product, Quotient

if TYPE_CHECKING:
    from .parser import Parser


def powers(parser: Parser, base: Node, start: int) -> Node:
    if parser.kind == "^" and _is_side(parser):
        return base
    parser.limits.enter(parser)
    raised = exponent(parser, base, start)
    parser.limits.leave()
    if parser.kind in ("^", "raised"):
        stacked = parser.ask("tower", parser.tokens[start].start, say("Two powers stand on each other without brackets."))
        parser.limits.enter(parser)
        nested = powers(parser, raised if not stacked else power(parser, base, raised), parser.i)
        parser.limits.leave()
        return nested if stacked else power(parser, base, nested)
    return power(parser, base, raised)


def _is_side(parser: Parser) -> bool:
    """Whether this is the side of a limit, `0^+` or `0^{-}`, and no power."""
    at = parser.i + 1 + (parser.tokens[parser.i + 1].kind == "{")
    return parser.tokens[at].kind in ("+", "-") and parser.tokens[at + 1].kind in (")", "}", "end")


def power(parser: Parser, base: Node, exponent: Node) -> Node:
    parser.limits.power(parser, base, exponent)
    return Power(base, exponent)


def exponent(parser: Parser, base: Node, start: int) -> Node:
    """What stands after `^`: a group, or bare, one sign and one thing."""
    token = parser.take()
    if token.kind == "raised":
        value = token.value
        assert isinstance(value, int)
        node: Node = Number(Fraction(abs(value)))
        return node if value >= 0 else Negative(node)
    if parser.kind in ("{", "("):
        return parser.operand()
    signed = parser.kind == "-"
    if parser.kind in ("-", "+"):
        sign = parser.take()
        if sign.gap and parser.tokens[parser.i].gap:  # x^ + C: the power was left out
            raise parser.fail(
                "exponent", say("The power is missing before this sign."), say("Write the power, or x^(-2) with brackets."), sign
            )
    bare = parser.tokens[parser.i]
    if bare.kind not in LETTERS | {"number", "infinity", "root", "fraction", "bar(", "|", "(", "{", "function", "vulgar"}:
        raise parser.unexpected()
    if bare.kind == "function" and parser.tokens[parser.i + 1].kind not in ("(", "{"):
        raise parser.fail("exponent", say("It is not clear how far this power goes."), say("Put the power in braces: e^{\\sin x}."))
    node = parser.operand()
    node = _bare_exponent(parser, node, bare, base, start)
    return Negative(node) if signed else node


def _bare_exponent(parser: Parser, node: Node, bare: Token, base: Node, start: int) -> Node:
    here = parser.tokens[parser.i]
    if node == ONE and bare.kind == "number" and here.kind == "/":
        if parser.ask(
            "one", parser.tokens[start].start, say("A power 1 before a slash: a root may be meant."), end=parser.tokens[parser.i + 1].end
        ):
            parser.take()
            return Quotient(ONE, parser.operand())
        return node
    letter = here.kind in LETTERS or (here.kind == "function" and not str(here.value).startswith("\\")) or here.kind == "choice"
    coefficient = bare.kind == "number" or (bare.kind == "name" and not parser.variable(str(bare.value)))
    constant_base = isinstance(base, Number | Constant) or not names(base)
    if letter and here.gap == 0 and coefficient and constant_base:
        if bare.kind == "name" and here.kind != "name":
            return node
        if parser.ask("exponent", parser.tokens[start].start, say("It is not clear how far the power goes.")):
            more = [node]
            while parser.kind in LETTERS | {"function", "choice"} and parser.tokens[parser.i].gap == 0:
                more.append(parser.factor())
            return Product(tuple(more))
    return node
