"""The grammar: a strict Pratt parser. What can be read in two ways is recorded as asked, never guessed.

A run of the parser follows a plan: the answers to the questions that it asks, in order; without one it takes reading 0. `read.py`
runs it again for the other plans and so finds every reading.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from .application import application
from .build import ONE
from .calculus import Frame, bar, brackets, derivative, differential, integral, limit
from .context import Context, is_variable
from .errors import NotationError
from .limits import Limits
from .message import Message, say
from .operands import absolute, choice, fraction, group, number, root, vulgar
from .powers import powers
from .tokens import SAYS, SLASH_FREE, STARTS, Token
from .tree import (
    ArbitraryConstant,
    Constant,
    Diverges,
    DoesNotExist,
    Equation,
    Inequality,
    Infinity,
    Name,
    Negative,
    Node,
    Number,
    Product,
    Quotient,
    Sum,
)

_UNCLOSED = say("This bracket is never closed.")


class Ask(NamedTuple):
    """A place that can be read in several ways."""

    kind: str
    start: int
    end: int
    message: Message
    ways: int


class Parser:
    """One run over the tokens of one text."""

    def __init__(self, tokens: Sequence[Token], context: Context, plan: Sequence[int] = (), kinds: dict[str, int] | None = None) -> None:
        self.tokens = list(tokens)
        self.i = 0
        self.context = context
        self.plan = plan
        self.kinds = kinds
        self.asked: list[Ask] = []
        self.limits = Limits()
        self.frame: Frame | None = None
        self.fractions = 0
        self.integral_end = -1
        self.open_bars = 0
        self.many_bars = sum(t.kind == "|" for t in tokens) >= 4
        self.log_base: int | None = None

    # -- tools ---------------------------------------------------------------------------------------------------------

    @property
    def kind(self) -> str:
        return self.tokens[self.i].kind

    def take(self) -> Token:
        token = self.tokens[self.i]
        self.i += token.kind != "end"
        return token

    def fail(self, code: str, message: Message, help: Message | None = None, token: Token | None = None) -> NotationError:
        token = token or self.tokens[self.i]
        return NotationError(code, message, token.start, token.end, help)

    def expect(self, kind: str, opening: Token, unclosed: Message = _UNCLOSED) -> Token:
        if self.kind == kind:
            return self.take()
        if self.kind == "end":
            raise self.fail("unclosed", unclosed, say("Add the closing {sign}.", sign="|" if kind == "bar)" else kind[-1]), opening)
        raise self.unexpected()

    def unexpected(self) -> NotationError:
        token = self.tokens[self.i]
        if token.kind in (")", "]", "}", "bar)"):
            return self.fail(
                "unopened", say("This bracket closes nothing, or not the kind that was opened."), say("Take it away, or open it before.")
            )
        if token.kind == "end":
            return self.fail("unfinished", say("The formula stops in the middle."), say("Write what is still missing."))
        what = SAYS.get(token.kind) or (token.kind if len(token.kind) == 1 else f"“{token.kind}”")
        if token.kind == "differential":
            return self.fail(
                "differential", say("This dx does not belong to an integral."), say("Write one dx for each integral sign, at its end.")
            )
        if token.kind == "_":
            return self.fail("syntax", say("A lower index has no meaning here."), say(r"Write limits behind brackets: \left[F\right]_0^1."))
        if token.kind == ",":
            return self.fail("syntax", say("A comma has no meaning here."), say("Write decimals as 0.5 and multiply with *."))
        return self.fail(
            "syntax",
            say("Something is missing or too much here: {what} cannot stand in this place.", what=what),
            say("Check the signs around it."),
        )

    def ask(self, kind: str, start: int, message: Message, count: int = 2, end: int | None = None) -> int:
        """Which reading to follow at an ambiguous place, by the plan."""
        number = len(self.asked)
        self.asked.append(Ask(kind, start, self.tokens[self.i].end if end is None else end, message, count))
        if self.kinds is not None:
            return self.kinds.get(kind, 0)
        return self.plan[number] if number < len(self.plan) else 0

    def ahead(self, parse: Callable[[], Node]) -> Node | None:
        """What would be read next, without reading it; None if nothing can be."""
        state = self.i, len(self.asked), self.tokens, self.limits.copy(), self.log_base
        self.tokens = list(self.tokens)
        try:
            return parse()
        except NotationError:
            return None
        finally:
            self.i, asked, self.tokens, self.limits, self.log_base = state
            del self.asked[asked:]

    # -- the levels of the grammar ---------------------------------------------------------------------------------------

    def statement(self) -> Node:
        """A whole text: an expression, an equation, an inequality or an answer in words."""
        token = self.tokens[0]
        if token.kind == "answer":
            self.i = 1
            node: Node = Diverges() if token.value == "diverges" else DoesNotExist()
        elif token.kind == "end":
            raise self.fail("empty", say("There is no formula here."), say("Write one."))
        else:
            node = self.sum()
            if self.kind in ("=", "relation"):
                relation = self.take()
                right = self.sum()
                node = Equation(node, right) if relation.kind == "=" else Inequality(node, str(relation.value), right)
                if self.kind in ("=", "relation"):
                    raise self.fail("syntax", say("One line holds one equation."), say("Start a new line with the second equals sign."))
        if self.kind != "end":
            raise self.unexpected()
        return node

    def sum(self) -> Node:
        terms = [self.signed_term()]
        while self.kind in ("+", "-") and not (self.frame and self.frame.variable):
            sign = self.take().kind
            term = self.signed_term() if self.kind == "-" else self.term()
            terms.append(Negative(term) if sign == "-" else term)
        if self.frame and self.frame.inside_fraction and len(terms) > 1:
            raise self.fail("syntax", say("The dx belongs to one term only."), say("Put the whole integrand in brackets and dx behind it."))
        self.limits.count(self, len(terms))
        return terms[0] if len(terms) == 1 else Sum(tuple(terms))

    def signed_term(self) -> Node:
        signs = 0
        if self.kind == "+":
            self.take()
        while self.kind == "-":
            self.take()
            signs += 1
        node = self.term()
        self.limits.nest(self, signs)
        for _ in range(signs):
            node = Negative(node)
        return node

    def term(self) -> Node:
        """Products and quotients from left to right; juxtaposition multiplies."""
        first = self.i
        factors: list[Node] = [] if self.kind == "differential" else [self.factor()]
        nesting = 0
        while True:
            kind = self.kind
            if kind == "*":
                self.take()
                if self.kind != "differential":
                    factors.append(self.signed_factor())
            elif kind == "/":
                factors = [self._over(factors, first)]
                nesting += 1
                self.limits.nest(self, nesting)
            elif kind == "differential":
                if self.frame and self.frame.variable and not self.frame.inside_fraction:
                    break  # read already by a limit or derivative inside
                differential(self)
                if (self.kind in STARTS and not self._bar_was_open()) or self.kind == "number":
                    raise self.fail(
                        "syntax", say("Something follows directly after dx."), say("Put it before dx, or set brackets round the integral.")
                    )
                if self.kind != "/":
                    break
            elif kind in STARTS and not (kind == "|" and self._bar_closes()) and not self._finished():
                factors.append(self._beside(factors))
            elif kind in ("number", "raised", "vulgar") and not self._finished():
                raise self.fail(
                    "number-after", say("A number stands directly after something."), say("Write 2x, x^2, x_2 or x*2: which is meant?")
                )
            else:
                break
        self.limits.count(self, len(factors))
        return ONE if not factors else factors[0] if len(factors) == 1 else Product(tuple(factors))

    def _finished(self) -> bool:
        """Whether an integral has just ended, so that nothing can be multiplied to it without a sign."""
        if self.integral_end == self.i and self.kind != "end":
            raise self.fail(
                "syntax", say("Something follows directly after an integral."), say("Put brackets round the integral, or a sign between.")
            )
        return bool(self.frame and self.frame.variable)

    def _bar_was_open(self) -> bool:
        """Whether the bar behind a dx closes one that was opened before the integral."""
        return self.kind == "|" and self.frame is not None and self.frame.bars_outside > 0

    def _bar_closes(self) -> bool:
        """Whether a plain bar after an operand closes the absolute value that is open."""
        if not self.open_bars:
            return False
        after = self.tokens[self.i + 1].kind
        if not self.many_bars or after not in STARTS or after == "|":
            return True
        return self.ask("bars", self.tokens[self.i].start, say("The bars can be paired in two ways.")) == 0

    def _beside(self, factors: list[Node]) -> Node:
        """The next factor of a juxtaposition."""
        before, here = self.tokens[self.i - 1], self.tokens[self.i]
        node = self.factor()
        mixed = here.kind == "fraction" and before.kind == "number" and isinstance(factors[-1], Number) and not factors[-1].places
        if mixed and isinstance(node, Quotient) and isinstance(node.top, Number) and isinstance(node.bottom, Number):
            end = self.tokens[self.i - 1].end
            if self.ask("mixed", before.start, say("A number before a fraction can be a mixed number or a product."), end=end):
                return Sum((factors.pop(), node))
        return node

    def _over(self, factors: list[Node], first: int) -> Node:
        """What has been read, divided by what follows the slash."""
        self.take()
        bottom = self.signed_factor()
        top = ONE if not factors else factors[0] if len(factors) == 1 else Product(tuple(factors))
        here = self.tokens[self.i]
        if here.kind in STARTS and here.kind not in SLASH_FREE and not (here.kind == "|" and self.open_bars):
            start = self.tokens[first].start
            if self.ask("slash", start, say("It is not clear what is under the slash."), end=here.end):
                more = [bottom]
                while self.kind in STARTS and not (self.kind == "|" and self.open_bars):
                    more.append(self.factor())
                bottom = Product(tuple(more))
        return Quotient(top, bottom)

    def signed_factor(self) -> Node:
        """A factor after `*` or `/`, which may have a minus sign of its own."""
        if self.kind == "-":
            self.take()
            return Negative(self.factor())
        return self.factor()

    def factor(self) -> Node:
        """An operand with its powers."""
        start = self.i
        base = self.operand()
        if self.kind in ("^", "raised"):
            base = powers(self, base, start)
        return base

    def variable(self, name: str) -> bool:
        return is_variable(name, self.context.parameters)

    # -- operands ------------------------------------------------------------------------------------------------------

    def operand(self) -> Node:
        self.limits.enter(self)
        read = _OPERANDS.get(self.kind)
        if read is None:
            raise self.unexpected()
        node = read(self)
        self.limits.leave()
        return node


_OPERANDS: dict[str, Callable[[Parser], Node]] = {
    "number": number, "choice": choice, "vulgar": vulgar, "fraction": fraction, "root": root,
    "name": lambda p: Name(str(p.take().value)), "constant": lambda p: Constant(str(p.take().value)),
    "arbitrary": lambda p: ArbitraryConstant(str(p.take().value)), "infinity": lambda p: (p.take(), Infinity())[1],
    "(": group, "{": group, "[": brackets, "|": absolute, "bar(": absolute, "leftdot": bar,
    "function": application, "integral": integral, "derivative": derivative, "limit": limit,
}  # fmt: skip
