"""Functions and how far their argument goes when it has no brackets: `\\sin 2x`, `\\cos ax`, `\\ln x/x`."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from .build import names
from .message import say
from .operands import first_digit, group, number, root
from .powers import power, powers
from .tree import Absolute, Call, Logarithm, Negative, Node, Number, Product, Quotient, Root
from .words import FUNCTION_WORDS, INVERSES

if TYPE_CHECKING:
    from .parser import Parser

_UNITS = frozenset(("number", "name", "constant", "arbitrary", "fraction", "root", "infinity", "vulgar", "choice"))
_STOPS = frozenset(("(", "[", "{", "|", "bar("))
_FAR = say("It is not clear how far the argument of the function goes.")


def application(parser: Parser) -> Node:
    """A function with its power and its argument."""
    token = parser.take()
    word = str(token.value).lstrip("\\")
    function = FUNCTION_WORDS[word]
    if function in ("sqrt", "cbrt"):
        return _root(parser, function)
    base = _base(parser, function)
    exponent: Node | None = None
    if parser.kind in ("^", "raised"):
        exponent = _power_of_function(parser)
        if exponent == Negative(Number(Fraction(1))):
            if function not in INVERSES:
                raise parser.fail(
                    "inverse",
                    say("“{word}” with the power -1 can mean two things.", word=word),
                    say("Write 1/{word}(…), or the inverse function by its own name.", word=word),
                    token,
                )
            function, exponent = INVERSES[function], None
    start = token.start
    kind = parser.kind
    if kind in ("(", "[") or kind == "{":
        argument = parser.operand() if kind != "[" else group(parser)
        inner = kind == "{" and not isinstance(argument, Absolute) and parser.tokens[parser.i - 2].kind not in (")", "bar)", "]", "|")
        doubtful = inner or exponent is not None
    elif kind in ("|", "bar("):
        argument, doubtful = parser.operand(), True
        if parser.kind in ("|", "bar(") and not (parser.kind == "|" and parser.open_bars) and parser.ask("argument", start, _FAR):
            more = [argument]
            while parser.kind in ("|", "bar("):
                more.append(parser.factor())
            argument = Product(tuple(more))
    else:
        argument, doubtful = _bare(parser, start), False
    if doubtful and parser.kind in ("^", "raised") and parser.ask("argument", start, say("It is not clear what the power belongs to.")):
        argument = powers(parser, argument, parser.i - 1)
    node = _apply(parser, function, argument, base, start)
    return node if exponent is None else power(parser, node, exponent)


def _root(parser: Parser, function: str) -> Node:
    parser.i -= 1
    if function == "cbrt":
        parser.take()
        if parser.kind not in ("(", "{"):
            raise parser.fail("braces", say("Brackets are missing after cbrt."), say("Write cbrt(x)."))
        return Root(parser.operand(), 3)
    parser.tokens[parser.i] = parser.tokens[parser.i]._replace(value="sqrt")
    return root(parser)


def _base(parser: Parser, function: str) -> Node | None:
    r"""The written base of a logarithm: `\log_2`."""
    if parser.kind != "_":
        return None
    if function != "log":
        raise parser.fail("syntax", say("A lower index has no meaning at this function."), say("Take it away."))
    parser.take()
    if parser.kind == "number":
        return number(parser)
    if parser.kind in ("{", "(", "name", "constant"):
        return parser.operand()
    raise parser.unexpected()


def _power_of_function(parser: Parser) -> Node:
    r"""The power in `\sin^2 x`."""
    token = parser.take()
    if token.kind == "raised":
        value = token.value
        assert isinstance(value, int)
        return Number(Fraction(value)) if value >= 0 else Negative(Number(Fraction(-value)))
    if parser.kind in ("{", "("):
        return parser.operand()
    negative = parser.kind == "-"
    if negative:
        parser.take()
    here = parser.tokens[parser.i]
    if here.kind == "number":
        several = here.end - here.start > 1
        two = several and parser.ask("power", here.start, say("It is not clear how many of these digits are the power."))
        node = first_digit(parser, here) if two else number(parser)
    elif here.kind == "name":
        node = parser.operand()
    else:
        raise parser.unexpected()
    return Negative(node) if negative else node


def _apply(parser: Parser, function: str, argument: Node, base: Node | None, start: int) -> Node:
    if base is not None:
        return Logarithm(base, argument)
    if function == "abs":
        return Absolute(argument)
    ten = Number(Fraction(10))
    if function == "lg":
        return Logarithm(ten, argument)
    if function == "log":
        convention = parser.context.log
        if convention == "ask":
            if parser.log_base is None:
                parser.log_base = parser.ask("log", start, say("“log” can be the natural logarithm or the one to base 10."))
            convention = "10" if parser.log_base else "natural"
        return Logarithm(ten, argument) if convention == "10" else Call("ln", argument)
    return Call(function, argument)


def _bare(parser: Parser, start: int) -> Node:
    """An argument without brackets: a run of numbers, coefficients and one variable with its power."""
    negative = parser.kind == "-"
    if negative:
        parser.take()
    if parser.kind == "function":
        argument = parser.factor()
        more_follows = parser.kind in _UNITS | {"function"} | _STOPS and parser.kind != "number" and _can_belong(parser)
        if more_follows and parser.ask("argument", start, _FAR):
            more = [argument]
            while parser.kind in _UNITS | {"function"} | _STOPS and parser.kind != "number" and _can_belong(parser):
                more.append(parser.factor())
            argument = Product(tuple(more))
    elif parser.kind in _UNITS:
        argument = _run(parser, start)
    else:
        raise (
            parser.unexpected()
            if parser.kind not in ("end",)
            else parser.fail("unfinished", say("The function has no argument."), say("Write sin x or sin(x)."))
        )
    if parser.kind == "/" and _slash_is_open(parser, argument) and parser.ask("argument", start, _FAR, end=parser.tokens[parser.i + 1].end):
        parser.take()
        argument = Quotient(argument, parser.factor())
    return Negative(argument) if negative else argument


def _can_belong(parser: Parser) -> bool:
    """Whether what follows a function of a function can belong to it: a printed space or a closing bar ends it."""
    token = parser.tokens[parser.i]
    return token.gap != 2 and not (token.kind == "|" and parser.open_bars)


def _run(parser: Parser, start: int) -> Node:
    factors = [parser.factor()]
    while True:
        token = parser.tokens[parser.i]
        kind = token.kind
        found = [n for f in factors for n in names(f)]
        taken = any(parser.variable(n) for n in found)
        if kind not in _UNITS and kind != "function" and kind not in _STOPS:
            break
        if kind == "number" or (kind == "|" and parser.open_bars):
            break
        if _ends(parser, kind, token.gap, taken, bool(found)):
            break
        doubt = taken or token.gap == 2 or kind in _STOPS or kind == "function"
        if doubt and parser.ask("argument", start, _FAR) == 0:
            break
        factors.append(parser.factor())
    return factors[0] if len(factors) == 1 else Product(tuple(factors))


def _ends(parser: Parser, kind: str, gap: int, taken: bool, named: bool) -> bool:
    r"""Whether the argument surely ends here: `\sin x\cos x`, `\sin x(1+x)`, `\sin x\,y`, `\sin x e^x`."""
    if kind == "function":
        return named or gap == 2
    if not taken:
        return False
    after = parser.tokens[parser.i + 1].kind
    exponential = kind == "constant" and after in ("^", "raised")
    return gap == 2 or exponential or kind in _STOPS or kind in ("fraction", "root", "vulgar")


def _slash_is_open(parser: Parser, argument: Node) -> bool:
    r"""Whether `\sin x/2` can mean the sine of a quotient. In `\ln x/x` and `\sin x/\cos x` nobody means that."""
    if parser.tokens[parser.i + 1].kind in ("function", "differential"):
        return False
    parser.i += 1
    bottom = parser.ahead(parser.factor)
    parser.i -= 1
    return bottom is None or not (names(bottom) & names(argument))
