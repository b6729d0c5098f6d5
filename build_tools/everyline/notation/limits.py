"""Bounds that make hostile input a clear error at once: depth, size, exponents, bits of whole numbers."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from .build import children, rational
from .message import say
from .tree import Infinity, Name, Negative, Node, Number, Power, Product, Quotient, Sum

if TYPE_CHECKING:
    from .parser import Parser

MAX_DEPTH = 48
MAX_NESTING = 32
MAX_NODES = 4_000
MAX_EXPONENT = 10_000
MAX_BITS = 65_536


class Limits:
    """What one run has used up."""

    __slots__ = ("bits", "depth", "nodes")

    def __init__(self, depth: int = 0, nodes: int = 0, bits: float = 0) -> None:
        self.depth, self.nodes, self.bits = depth, nodes, bits

    def copy(self) -> Limits:
        return Limits(self.depth, self.nodes, self.bits)

    def enter(self, parser: Parser) -> None:
        self.depth += 1
        self.nodes += 1
        if self.depth > MAX_DEPTH:
            raise parser.fail(
                "limit", say("This is nested too deeply."), say("At most {count} levels of brackets can be read.", count=MAX_DEPTH)
            )
        if self.nodes > MAX_NODES:
            raise parser.fail("limit", say("This formula is too large."), say("Split it into parts."))

    def leave(self) -> None:
        self.depth -= 1

    def count(self, parser: Parser, more: int) -> None:
        self.nodes += more
        if self.nodes > MAX_NODES:
            raise parser.fail("limit", say("This formula is too large."), say("Split it into parts."))

    def nest(self, parser: Parser, levels: int) -> None:
        """Levels that are nested without brackets, as in `a/b/c` or `--x`."""
        if levels > MAX_NESTING:
            raise parser.fail("limit", say("This is nested too deeply."), say("Collect the factors or the signs."))

    def power(self, parser: Parser, base: Node, exponent: Node) -> None:
        size = magnitude(exponent)
        if size > MAX_EXPONENT:
            raise parser.fail(
                "limit",
                say("This exponent is too large."),
                say("Exponents go up to {number}.", number=MAX_EXPONENT),
                parser.tokens[parser.i - 1],
            )
        self.bits += 0 if isinstance(base, Name) else bits(base) * max(size, 1)
        if self.bits > MAX_BITS:
            raise parser.fail(
                "limit", say("This number is too large."), say("Its digits would fill many pages."), parser.tokens[parser.i - 1]
            )


def magnitude(node: Node) -> float:
    """An upper bound of the absolute value of a number written out; 0 as soon as a letter or a function is in it."""
    match node:
        case Number(value=value):
            return float(value) if value < 10**300 else math.inf
        case Negative(argument=inner):
            return magnitude(inner)
        case Sum(terms=parts):
            return sum(map(magnitude, parts))
        case Product(factors=parts):
            return math.prod(magnitude(p) or 1 for p in parts)
        case Quotient(top=top, bottom=bottom):
            below = rational(bottom)
            return magnitude(top) / float(abs(below)) if below and abs(below) > 1e-300 else magnitude(top)
        case Power(base=base, exponent=exponent):
            low, high = magnitude(base), magnitude(exponent)
            return math.inf if high * math.log2(max(low, 1.0)) > 1_000 else low**high if low else 0
        case Infinity():
            return 0
    return 0


def bits(node: Node) -> float:
    """About how many bits the whole numbers of an expression take once it is multiplied out; letters count nothing."""
    match node:
        case Number(value=value):
            return float(max(abs(value.numerator), value.denominator).bit_length())
        case Power(base=base, exponent=exponent):
            return bits(base) * max(magnitude(exponent), 1)
        case Sum() | Product() | Quotient() | Negative():
            return sum(bits(part) for part in children(node))
    return 0
