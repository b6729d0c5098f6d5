"""The grammar: a strict Pratt parser. What can be read in two ways is recorded as asked, never guessed.

A run of the parser follows a plan: the answers to the questions that it asks, in order; without one it takes reading 0. `read.py`
runs it again for the other plans and so finds every reading.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import NamedTuple

from .application import application
from .build import ONE, names
from .calculus import Frame, bar, brackets, derivative, differential, integral, limit
from .context import Context, is_variable
from .errors import NotationError
from .lexer import Token, pieces_to_tokens
from .limits import Limits
from .tree import (
    Absolute,
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
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)  # fmt: skip

LETTERS = frozenset(("name", "constant", "arbitrary"))
STARTS = LETTERS | {
    "function", "choice", "(", "[", "{", "|", "bar(", "root", "fraction", "infinity", "vulgar", "integral", "derivative", "limit", "leftdot",
}  # fmt: skip
_SLASH_FREE = frozenset(("integral", "derivative", "limit", "leftdot"))
CLOSING = {"(": ")", "[": "]", "{": "}", "bar(": "bar)", "|": "|", "leftdot": "bar)"}
SAYS = {
    "end": "the end",
    "relation": "a comparison",
    "differential": "dx",
    "to": "an arrow",
    "raised": "a raised number",
    "|": "|",
    "bar)": "|",
}


class Ask(NamedTuple):
    """A place that can be read in several ways."""

    kind: str
    start: int
    end: int
    message: str
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
        self.i += 1
        return token

    def fail(self, code: str, message: str, help: str = "", token: Token | None = None) -> NotationError:
        token = token or self.tokens[self.i]
        return NotationError(code, message, token.start, token.end, help)

    def expect(self, kind: str, opening: Token, what: str = "bracket") -> Token:
        if self.kind == kind:
            return self.take()
        if self.kind == "end":
            raise self.fail("unclosed", f"This {what} is never closed.", f"Add the closing {kind[-1] if kind != 'bar)' else '|'}.", opening)
        raise self.unexpected()

    def unexpected(self) -> NotationError:
        token = self.tokens[self.i]
        if token.kind in (")", "]", "}", "bar)"):
            return self.fail(
                "unopened", "This bracket closes nothing, or not the kind that was opened.", "Take it away, or open it before."
            )
        if token.kind == "end":
            return self.fail("unfinished", "The formula stops in the middle.", "Write what is still missing.")
        what = SAYS.get(token.kind) or (token.kind if len(token.kind) == 1 else f"“{token.kind}”")
        if token.kind == ",":
            return self.fail("syntax", "A comma has no meaning here.", "Write decimals as 0.5 and multiply with *.")
        return self.fail(
            "syntax", f"Something is missing or too much here: {what} cannot stand in this place.", "Check the signs around it."
        )

    def ask(self, kind: str, start: int, message: str, count: int = 2, end: int | None = None) -> int:
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
            raise self.fail("empty", "There is no formula here.", "Write one.")
        else:
            node = self.sum()
            if self.kind in ("=", "relation"):
                relation = self.take()
                right = self.sum()
                node = Equation(node, right) if relation.kind == "=" else Inequality(node, str(relation.value), right)
                if self.kind in ("=", "relation"):
                    raise self.fail("syntax", "One line holds one equation.", "Start a new line with the second equals sign.")
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
            raise self.fail("syntax", "The dx belongs to one term only.", "Put the whole integrand in brackets and dx behind it.")
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
                differential(self)
                if self.kind in STARTS or self.kind == "number":
                    raise self.fail(
                        "syntax", "Something follows directly after dx.", "Put it before dx, or set brackets round the integral."
                    )
                if self.kind != "/":
                    break
            elif kind in STARTS and not (kind == "|" and self._bar_closes()) and not self._finished():
                factors.append(self._beside(factors))
            elif kind in ("number", "raised", "vulgar") and not self._finished():
                raise self.fail("number-after", "A number stands directly after something.", "Write 2x, x^2, x_2 or x*2: which is meant?")
            else:
                break
        self.limits.count(self, len(factors))
        return ONE if not factors else factors[0] if len(factors) == 1 else Product(tuple(factors))

    def _finished(self) -> bool:
        """Whether an integral has just ended, so that nothing can be multiplied to it without a sign."""
        if self.integral_end == self.i and self.kind != "end":
            raise self.fail(
                "syntax", "Something follows directly after an integral.", "Put brackets round the integral, or a sign between."
            )
        return bool(self.frame and self.frame.variable)

    def _bar_closes(self) -> bool:
        """Whether a plain bar after an operand closes the absolute value that is open."""
        if not self.open_bars:
            return False
        after = self.tokens[self.i + 1].kind
        if not self.many_bars or after not in STARTS or after == "|":
            return True
        return self.ask("bars", self.tokens[self.i].start, "The bars can be paired in two ways.") == 0

    def _beside(self, factors: list[Node]) -> Node:
        """The next factor of a juxtaposition."""
        before, here = self.tokens[self.i - 1], self.tokens[self.i]
        node = self.factor()
        mixed = here.kind == "fraction" and before.kind == "number" and isinstance(factors[-1], Number) and not factors[-1].places
        if mixed and isinstance(node, Quotient) and isinstance(node.top, Number) and isinstance(node.bottom, Number):
            end = self.tokens[self.i - 1].end
            if self.ask("mixed", before.start, "A number before a fraction can be a mixed number or a product.", end=end):
                return Sum((factors.pop(), node))
        return node

    def _over(self, factors: list[Node], first: int) -> Node:
        """What has been read, divided by what follows the slash."""
        self.take()
        bottom = self.signed_factor()
        top = ONE if not factors else factors[0] if len(factors) == 1 else Product(tuple(factors))
        here = self.tokens[self.i]
        if here.kind in STARTS and here.kind not in _SLASH_FREE and not (here.kind == "|" and self.open_bars):
            start = self.tokens[first].start
            if self.ask("slash", start, "It is not clear what is under the slash.", end=here.end):
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
            base = self.powers(base, start)
        return base

    # -- powers --------------------------------------------------------------------------------------------------------

    def powers(self, base: Node, start: int) -> Node:
        if self.kind == "^" and self._is_side():
            return base
        exponent = self.exponent(base, start)
        if self.kind in ("^", "raised"):
            stacked = self.ask("tower", self.tokens[start].start, "Two powers stand on each other without brackets.")
            nested = self.powers(exponent if not stacked else self.power(base, exponent), self.i)
            return nested if stacked else self.power(base, nested)
        return self.power(base, exponent)

    def _is_side(self) -> bool:
        """Whether this is the side of a limit, `0^+` or `0^{-}`, and no power."""
        at = self.i + 1 + (self.tokens[self.i + 1].kind == "{")
        return self.tokens[at].kind in ("+", "-") and self.tokens[at + 1].kind in (")", "}", "end")

    def power(self, base: Node, exponent: Node) -> Node:
        self.limits.power(self, base, exponent)
        return Power(base, exponent)

    def exponent(self, base: Node, start: int) -> Node:
        """What stands after `^`: a group, or bare, one sign and one thing."""
        token = self.take()
        if token.kind == "raised":
            value = token.value
            assert isinstance(value, int)
            node: Node = Number(Fraction(abs(value)))
            return node if value >= 0 else Negative(node)
        if self.kind in ("{", "("):
            return self.operand()
        signed = self.kind == "-"
        if self.kind in ("-", "+"):
            self.take()
        bare = self.tokens[self.i]
        if bare.kind not in LETTERS | {"number", "infinity", "root", "fraction", "bar(", "|", "(", "{", "function", "vulgar"}:
            raise self.unexpected()
        if bare.kind == "function" and self.tokens[self.i + 1].kind not in ("(", "{"):
            raise self.fail("exponent", "It is not clear how far this power goes.", "Put the power in braces: e^{\\sin x}.")
        node = self.operand()
        node = self._bare_exponent(node, bare, base, start)
        return Negative(node) if signed else node

    def _bare_exponent(self, node: Node, bare: Token, base: Node, start: int) -> Node:
        here = self.tokens[self.i]
        if node == ONE and bare.kind == "number" and here.kind == "/":
            if self.ask("one", self.tokens[start].start, "A power 1 before a slash: a root may be meant.", end=self.tokens[self.i + 1].end):
                self.take()
                return Quotient(ONE, self.operand())
            return node
        letter = here.kind in LETTERS or (here.kind == "function" and not str(here.value).startswith("\\")) or here.kind == "choice"
        coefficient = bare.kind == "number" or (bare.kind == "name" and not self.variable(str(bare.value)))
        constant_base = isinstance(base, Number | Constant) or not names(base)
        if letter and here.gap == 0 and coefficient and constant_base:
            if bare.kind == "name" and here.kind != "name":
                return node
            if self.ask("exponent", self.tokens[start].start, "It is not clear how far the power goes."):
                more = [node]
                while self.kind in LETTERS | {"function", "choice"} and self.tokens[self.i].gap == 0:
                    more.append(self.factor())
                return Product(tuple(more))
        return node

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

    def number(self) -> Node:
        token = self.take()
        values = token.value
        assert isinstance(values, tuple)
        if len(values) == 1:
            return values[0]  # type: ignore[no-any-return]
        message = "This can be a number in thousands or one with decimals."
        return values[self.ask("thousands", token.start, message, end=token.end)]  # type: ignore[no-any-return]

    def choice(self) -> Node:
        token = self.tokens[self.i]
        readings = token.value
        assert isinstance(readings, tuple)
        picked = self.ask("word", token.start, "These letters can be read in two ways.", len(readings))
        self.tokens[self.i : self.i + 1] = pieces_to_tokens(readings[min(picked, len(readings) - 1)], token.start, token.end, token.gap)
        return self.operand()

    def vulgar(self) -> Node:
        top, bottom = self.take().value  # type: ignore[misc]
        return Quotient(Number(Fraction(top)), Number(Fraction(bottom)))  # type: ignore[has-type]

    def group(self) -> Node:
        """Brackets of any kind; what is inside stands on its own."""
        opening = self.take()
        held = self.frame, self.open_bars
        self.frame, self.open_bars = None, 0
        node = self.sum()
        self.frame, self.open_bars = held
        self.expect(CLOSING[opening.kind], opening)
        return node

    def absolute(self) -> Node:
        opening = self.take()
        held = self.frame, self.open_bars
        self.frame = None
        self.open_bars = self.open_bars + 1 if opening.kind == "|" else 0
        node = self.sum()
        self.frame, self.open_bars = held
        self.expect(CLOSING[opening.kind], opening, "bar")
        return Absolute(node)

    def fraction(self) -> Node:
        self.take()
        self.fractions += 1
        top = self.braced(keep_frame=True)
        self.fractions -= 1
        return Quotient(top, self.braced())

    def braced(self, keep_frame: bool = False) -> Node:
        r"""An argument of `\frac` or `\sqrt`: a group in braces, or one digit or letter."""
        token = self.tokens[self.i]
        if token.kind == "{":
            held = self.frame, self.open_bars
            self.frame, self.open_bars = (self.frame if keep_frame else None), 0
            self.take()
            node = self.sum()
            self.frame, self.open_bars = held
            self.expect("}", token, "brace")
            return node
        if token.kind == "number":
            return self.first_digit(token)
        if token.kind in LETTERS | {"infinity", "fraction", "root"}:
            return self.operand()
        raise self.fail("braces", "Braces are missing here.", r"Write \frac{…}{…} or \sqrt{…}.")

    def first_digit(self, token: Token) -> Node:
        r"""As TeX does, `\frac12` takes one digit; what is left of the number is a token of its own."""
        (value,) = token.value if isinstance(token.value, tuple) and len(token.value) == 1 else (None,)
        if value is None or value.places:
            raise self.fail("braces", "Braces are missing here.", r"Write \frac{1.5}{2}.")
        digits = str(value.value)
        if len(digits) == 1:
            return self.operand()
        rest = Token("number", (Number(Fraction(int(digits[1:]))),), token.start + 1, token.end, 0)
        self.tokens[self.i] = rest
        return Number(Fraction(int(digits[0])))

    def root(self) -> Node:
        token = self.take()
        index = int(str(token.value)) if str(token.value or "").isdigit() else 2
        if self.kind == "[" and token.value in ("\\", "sqrt"):
            opening = self.take()
            held = self.sum()
            self.expect("]", opening)
            if not isinstance(held, Number) or held.places or not 2 <= held.value <= 99:
                raise self.fail("root", "The index of a root is a whole number from 2 to 99.", r"Write \sqrt[3]{x}.", opening)
            index = int(held.value)
        if token.value == "\\" and self.kind == "number":
            whole = self.tokens[self.i]
            digits = whole.end - whole.start
            if digits > 1 and self.ask("root", token.start, "It is not clear how far the root goes.") == 0:
                return Root(self.operand(), index)
            return Root(self.first_digit(whole), index)
        if self.kind in ("{", "(") or token.value == "\\":
            return Root(self.braced() if self.kind == "{" or (token.value == "\\" and self.kind != "(") else self.operand(), index)
        return self._bare_root(token, index)

    def _bare_root(self, token: Token, index: int) -> Node:
        """`√x` and `sqrt x`: without brackets only one thing can be meant, or it is asked about."""
        inside = self.operand()
        if self.kind not in STARTS | {"^", "raised"} or self.kind == "|" or self.tokens[self.i].gap == 2:
            return Root(inside, index)
        if self.ask("root", token.start, "It is not clear how far the root goes.") == 0:
            return Root(inside, index)
        more = [self.powers(inside, self.i - 1) if self.kind in ("^", "raised") else inside]
        while self.kind in STARTS and self.kind != "|":
            more.append(self.factor())
        return Root(more[0] if len(more) == 1 else Product(tuple(more)), index)


_OPERANDS: dict[str, Callable[[Parser], Node]] = {
    "number": Parser.number, "choice": Parser.choice, "vulgar": Parser.vulgar, "fraction": Parser.fraction, "root": Parser.root,
    "name": lambda p: Name(str(p.take().value)), "constant": lambda p: Constant(str(p.take().value)),
    "arbitrary": lambda p: ArbitraryConstant(str(p.take().value)), "infinity": lambda p: (p.take(), Infinity())[1],
    "(": Parser.group, "{": Parser.group, "[": brackets, "|": Parser.absolute, "bar(": Parser.absolute, "leftdot": bar,
    "function": application, "integral": integral, "derivative": derivative, "limit": limit,
}  # fmt: skip
