"""Where a question is asked: intervals and inequalities, brought to an interval or a union of intervals."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .build import contains, names
from .context import Context
from .errors import NotationError
from .lexer import Lexer
from .message import say
from .parser import Parser
from .tokens import Token
from .tree import (
    Absolute,
    Call,
    Constant,
    Infinity,
    Interval,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Region,
    Root,
    Sum,
    Union,
)  # fmt: skip

_FLIP = {"<": ">", "<=": ">=", ">": "<", ">=": "<=", "!=": "!="}
_LINE = Interval(Negative(Infinity()), Infinity())
_HELP = say("Write (0, infinity), [0, 1] or x > 0; join parts with “or”.")


def parse_domain(text: str, variable: str, context: Context) -> Region:
    """The region that a text describes: `(-infinity, -1) or (1, infinity)`, `[0, 1]`, `0 < x <= 1`, `x > 0 and x != 1`.

    Raises NotationError if it cannot be read, is empty, or if its ends cannot be put in order.
    """
    tokens = Lexer(text, context.declare(variable), commas=False).run()
    parser = Parser(_with_open_ends(tokens), context.declare(variable))
    parts = _Reader(parser, variable).region()
    if parser.asked:
        ask = parser.asked[0]
        raise NotationError("ambiguous", ask.message, ask.start, ask.end, say("Put brackets so that it can be read in one way only."))
    if not parts:
        raise NotationError("empty-domain", say("No number satisfies this."), 0, len(text), _HELP)
    return parts[0] if len(parts) == 1 else Union(tuple(parts))


def _with_open_ends(tokens: list[Token]) -> list[Token]:
    """The brackets that close an interval as in `[0, 1[` told from those that open something."""
    ends = ("end", "or", "union", "and", ",")
    return [t._replace(kind="open-end") if t.kind == "[" and tokens[i + 1].kind in ends else t for i, t in enumerate(tokens)]


@dataclass(slots=True)
class _Reader:
    parser: Parser
    variable: str

    def region(self) -> list[Interval]:
        parts = self.meeting()
        while self.parser.kind in ("or", "union"):
            self.parser.take()
            parts = parts + self.meeting()
        if self.parser.kind != "end":
            raise self.parser.unexpected()
        return self.united(parts)

    def meeting(self) -> list[Interval]:
        """Parts joined by “and” or a comma."""
        parts = self.part()
        while self.parser.kind in ("and", ","):
            self.parser.take()
            other = self.part()
            parts = [both for a in parts for b in other for both in self.common(a, b)]
        return parts

    def part(self) -> list[Interval]:
        if self.parser.kind in ("(", "[", "]"):
            state = self.parser.i
            found = self.interval()
            if found is not None:
                return [found]
            self.parser.i = state
        return self.inequality()

    def interval(self) -> Interval | None:
        """`(a, b)`, `[a; b)` or, as some countries write it, `]a, b[`; None if it is a bracket of another kind."""
        opening = self.parser.take()
        lower = self.parser.sum()
        if self.parser.kind not in (",", ";"):
            return None
        self.parser.take()
        upper = self.parser.sum()
        closing = self.parser.take()
        if closing.kind not in (")", "]", "open-end"):
            raise self.parser.fail("unclosed", say("This interval is never closed."), _HELP, opening)
        for end, token in ((lower, opening), (upper, closing)):
            if self.variable in names(end):
                raise self.parser.fail(
                    "domain", say("The ends of an interval cannot hold {variable}.", variable=self.variable), _HELP, token
                )
        interval = Interval(
            lower, upper, opening.kind == "[" and not contains(lower, Infinity), closing.kind == "]" and not contains(upper, Infinity)
        )
        if self.before(upper, lower):
            raise self.parser.fail(
                "domain", say("The left end of this interval is not below its right end."), say("Exchange the ends."), opening
            )
        return interval

    def inequality(self) -> list[Interval]:
        """`x > 0`, `0 < x <= 1`, `|x| < 2`, `x != 0`."""
        first = self.parser.tokens[self.parser.i]
        sides = [self.parser.sum()]
        relations: list[str] = []
        while self.parser.kind == "relation" and len(relations) < 2:
            relations.append(str(self.parser.take().value))
            sides.append(self.parser.sum())
        if not relations:
            raise self.parser.fail("domain", say("This says no interval and no inequality."), _HELP, first)
        parts = self.solve(sides[0], relations[0], sides[1])
        if parts is not None and len(relations) == 2:
            more = self.solve(sides[1], relations[1], sides[2])
            parts = None if more is None else [both for a in parts for b in more for both in self.common(a, b)]
        if parts is None:
            message = say("The variable {variable} does not stand alone on one side.", variable=self.variable)
            raise self.parser.fail("domain", message, say("Solve for {variable}: {variable} > 0.", variable=self.variable), first)
        return parts

    def solve(self, left: Node, relation: str, right: Node) -> list[Interval] | None:
        x = Name(self.variable)
        if right in (x, Absolute(x)):
            left, relation, right = right, _FLIP[relation], left
        if self.variable in names(right):
            return None
        low, high = _LINE.lower, _LINE.upper
        closed = relation.endswith("=")
        if left == x:
            if relation == "!=":
                return [Interval(low, right), Interval(right, high)]
            return [Interval(low, right, False, closed) if relation[0] == "<" else Interval(right, high, closed, False)]
        if left == Absolute(x):
            minus = right.argument if isinstance(right, Negative) else Negative(right)
            if relation in ("<", "<="):
                return [Interval(minus, right, closed, closed)]
            if relation == "!=":
                return None
            return [Interval(low, minus, False, closed), Interval(right, high, closed, False)]
        return None

    def before(self, a: Node, b: Node) -> bool:
        """Whether a < b, as far as both are known numbers; equal trees are equal."""
        if a == b:
            return False
        first, second = approximate(a), approximate(b)
        return first is not None and second is not None and first < second - 1e-12 * max(1.0, abs(first) if math.isfinite(first) else 1.0)

    def decided(self, a: Node, b: Node) -> None:
        if a != b and (approximate(a) is None or approximate(b) is None):
            raise self.parser.fail(
                "domain", say("It is not known which of these ends is larger."), say("Write the intervals from left to right.")
            )

    def common(self, a: Interval, b: Interval) -> list[Interval]:
        """What two intervals share: none or one."""
        lower, closed_lower = self.larger(a.lower, a.closed_lower, b.lower, b.closed_lower)
        upper, closed_upper = self.smaller(a.upper, a.closed_upper, b.upper, b.closed_upper)
        if self.before(upper, lower) or (not self.before(lower, upper) and self.same(lower, upper) and not (closed_lower and closed_upper)):
            return []
        return [Interval(lower, upper, closed_lower, closed_upper)]

    def same(self, a: Node, b: Node) -> bool:
        return a == b or (approximate(a) is not None and approximate(b) is not None and not self.before(a, b) and not self.before(b, a))

    def larger(self, a: Node, a_closed: bool, b: Node, b_closed: bool) -> tuple[Node, bool]:
        if _infinite(a):
            return b, b_closed
        if _infinite(b):
            return a, a_closed
        self.decided(a, b)
        if self.same(a, b):
            return a, a_closed and b_closed
        return (b, b_closed) if self.before(a, b) else (a, a_closed)

    def smaller(self, a: Node, a_closed: bool, b: Node, b_closed: bool) -> tuple[Node, bool]:
        if _infinite(a):
            return b, b_closed
        if _infinite(b):
            return a, a_closed
        self.decided(a, b)
        if self.same(a, b):
            return a, a_closed and b_closed
        return (b, b_closed) if self.before(b, a) else (a, a_closed)

    def united(self, parts: list[Interval]) -> list[Interval]:
        """From left to right, with parts that overlap or touch in a point of theirs made one."""
        if any(approximate(p.lower) is None for p in parts):
            return parts
        parts = sorted(parts, key=lambda p: (approximate(p.lower), not p.closed_lower))
        joined: list[Interval] = []
        for part in parts:
            last = joined[-1] if joined else None
            touching = last is not None and self.same(part.lower, last.upper) and (part.closed_lower or last.closed_upper)
            if last is None or not (self.before(part.lower, last.upper) or touching):
                joined.append(part)
            elif self.before(last.upper, part.upper):
                joined[-1] = Interval(last.lower, part.upper, last.closed_lower, part.closed_upper)
            elif self.same(last.upper, part.upper) and part.closed_upper:
                joined[-1] = Interval(last.lower, last.upper, last.closed_lower, True)
        return joined


def _infinite(node: Node) -> bool:
    return isinstance(node, Infinity) or node == Negative(Infinity())


_CALLS = {"sin": math.sin, "cos": math.cos, "tan": math.tan, "exp": math.exp, "ln": math.log, "arctan": math.atan, "arcsin": math.asin,
          "arccos": math.acos, "sinh": math.sinh, "cosh": math.cosh, "tanh": math.tanh}  # fmt: skip


def approximate(node: Node) -> float | None:
    """A float near a written number, to put ends of intervals in order; None if letters or other functions are in it."""
    try:
        return _approximate(node)
    except (ArithmeticError, ValueError, TypeError, KeyError):
        return None


def _approximate(node: Node) -> float:
    match node:
        case Number(value=value):
            return float(value)
        case Constant(name=name):
            return math.pi if name == "pi" else math.e
        case Infinity():
            return math.inf
        case Negative(argument=inner):
            return -_approximate(inner)
        case Sum(terms=parts):
            return sum(map(_approximate, parts))
        case Product(factors=parts):
            return math.prod(map(_approximate, parts))
        case Quotient(top=top, bottom=bottom):
            return _approximate(top) / _approximate(bottom)
        case Power(base=base, exponent=exponent):
            return math.pow(_approximate(base), _approximate(exponent))
        case Root(radicand=radicand, index=index):
            return math.pow(_approximate(radicand), 1 / index)
        case Absolute(argument=inner):
            return abs(_approximate(inner))
        case Call(function=function, argument=argument):
            return _CALLS[function](_approximate(argument))
    raise ValueError(node)
