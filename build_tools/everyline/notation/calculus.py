"""Integrals, derivatives, limits and evaluation bars."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from .build import names
from .message import Message, say
from .operands import absolute, group, number
from .tree import Absolute, Derivative, Evaluation, Integral, Limit, Name, Negative, Node, Sum

if TYPE_CHECKING:
    from .parser import Parser
    from .tokens import Token

NO_DX = say("This integral has no dx.")
NO_DX_HELP = say("Write dx (or the letter of the variable) at its end.")


@dataclass(slots=True)
class Frame:
    """The integral that is being read; `variable` is known once its dx has been met."""

    variable: str | None = None
    inside_fraction: bool = False
    bars_outside: int = 0


def differential(parser: Parser) -> None:
    """A dx: it ends the integrand, or stands in the numerator of a fraction."""
    token = parser.take()
    if parser.frame is None:
        raise parser.fail(
            "differential",
            say("This dx does not belong to an integral."),
            say("Put it at the end of the integrand, outside of brackets."),
            token,
        )
    if parser.frame.variable is not None:
        raise parser.fail(
            "differential", say("There is more than one dx in this integral."), say("Write one integral sign for each."), token
        )
    parser.frame.variable = str(token.value)
    parser.frame.inside_fraction = parser.fractions > 0 or parser.kind == "/"


def integral(parser: Parser) -> Node:
    sign = parser.take()
    lower, upper = _scripts(parser)
    if (lower is None) != (upper is None):
        raise parser.fail("limits", say("An integral has both limits or neither."), say(r"Write \int_0^1 or \int."), sign)
    held = parser.frame, parser.open_bars, parser.fractions
    parser.frame, parser.open_bars, parser.fractions = Frame(bars_outside=parser.open_bars), 0, 0
    integrand = parser.sum()
    variable = parser.frame.variable
    parser.frame, parser.open_bars, parser.fractions = held
    if variable is None:
        if parser.kind not in ("end", ")", "]", "}"):
            raise parser.unexpected()
        raise parser.fail("differential", NO_DX, NO_DX_HELP, sign)
    parser.integral_end = parser.i
    return Integral(integrand, variable, lower, upper)


def _scripts(parser: Parser) -> tuple[Node | None, Node | None]:
    """A lower and an upper script, in either order."""
    found: dict[str, Node] = {}
    while parser.kind in ("_", "^") and parser.kind not in found:
        kind = parser.take().kind
        found[kind] = script(parser)
    return found.get("_"), found.get("^")


def script(parser: Parser) -> Node:
    """A limit of an integral: a group, or one signed thing."""
    if parser.kind == "number" and parser.tokens[parser.i].gap == 0 and parser.tokens[parser.i + 1].kind == "^":
        return number(parser)
    if parser.kind == "-":
        parser.take()
        return Negative(parser.operand())
    if parser.kind == "+":
        parser.take()
    if parser.kind not in ("{", "(", "number", "name", "constant", "infinity", "fraction", "root"):
        raise parser.unexpected()
    return parser.operand()


def brackets(parser: Parser) -> Node:
    """Square brackets: a group, or with limits behind them the difference of two values."""
    opening = parser.tokens[parser.i]
    return _between(parser, group(parser), opening)


def bar(parser: Parser) -> Node:
    r"""`\left. F \right|_0^1`."""
    opening = parser.tokens[parser.i]
    body = absolute(parser)
    assert isinstance(body, Absolute)
    node = _between(parser, body.argument, opening)
    if node is body.argument:
        raise parser.fail("limits", say("The limits are missing after this bar."), say(r"Write \left[F\right]_0^1."), opening)
    return node


def _between(parser: Parser, body: Node, opening: Token) -> Node:
    if parser.kind == "^":  # [F]^1_0, but not [x+1]^2
        state = parser.i, len(parser.asked)
        parser.take()
        try:
            script(parser)
            upper_first = parser.kind == "_"
        except ValueError:
            upper_first = False
        parser.i = state[0]
        del parser.asked[state[1] :]
        if not upper_first:
            return body
    elif parser.kind != "_":
        return body
    found: dict[str, Node] = {}
    variable: str | None = None
    while parser.kind in ("_", "^") and parser.kind not in found:
        kind = parser.take().kind
        if parser.kind in ("{", "(") and parser.tokens[parser.i + 1].kind == "name" and parser.tokens[parser.i + 2].kind == "=":
            variable = str(parser.tokens[parser.i + 1].value)
            group = parser.tokens[parser.i]
            parser.i += 3
            found[kind] = parser.sum()
            parser.expect({"{": "}", "(": ")"}[group.kind], group)
        else:
            found[kind] = script(parser)
    if len(found) != 2:
        raise parser.fail("limits", say("Two limits belong to these brackets."), say(r"Write \left[F\right]_0^1."), opening)
    return Evaluation(body, variable or _variable_of(parser, body, opening), found["_"], found["^"])


def _variable_of(parser: Parser, body: Node, opening: Token) -> str:
    found = sorted(names(body))
    if len(found) != 1:
        found = [n for n in found if n not in parser.context.parameters]
    if len(found) != 1:
        raise parser.fail(
            "limits", say("It is not clear which letter the limits are for."), say(r"Write \left[F\right]_{x=0}^{1}."), opening
        )
    return found[0]


def derivative(parser: Parser) -> Node:
    token = parser.take()
    variable, order, function = token.value  # type: ignore[misc]
    if function is not None:  # type: ignore[has-type]
        return Derivative(Name(function), variable, order)  # type: ignore[has-type]
    return Derivative(_operand_of(parser, token, say("It is not clear how far this derivative goes.")), variable, order)  # type: ignore[has-type]


def _operand_of(parser: Parser, token: Token, unclear: Message) -> Node:
    """What a derivative or a limit is taken of: a bracket, or one term; a bare sum behind it is asked about."""
    if parser.kind in ("(", "["):
        start = parser.i
        body = group(parser)
        if parser.kind in ("^", "raised"):
            parser.i = start  # the derivative of a power, (3x+1)^5
        elif parser.kind in ("*", "/") or (parser.kind in _JOINS and not (parser.kind == "|" and parser.open_bars)):
            if parser.ask("operator", token.start, unclear) == 0:
                return body
            parser.i = start
        else:
            return body
    body = parser.signed_term()
    if (
        parser.kind in ("+", "-")
        and parser.tokens[parser.i + 1].kind not in ("derivative", "limit")
        and parser.ask("operator", token.start, unclear)
    ):
        return _longer(parser, body)
    return body


def _longer(parser: Parser, first: Node) -> Node:
    """The whole sum that begins with a term already read."""
    terms = [first]
    while parser.kind in ("+", "-"):
        sign = parser.take().kind
        term = parser.term()
        terms.append(Negative(term) if sign == "-" else term)
    return Sum(tuple(terms))


_JOINS = frozenset(("name", "constant", "arbitrary", "function", "choice", "(", "[", "{", "|", "bar(", "root", "fraction", "infinity"))


def limit(parser: Parser) -> Node:
    token = parser.take()
    if parser.kind != "_":
        raise parser.fail("limits", say("A limit needs its point."), say(r"Write \lim_{x\to 0}, or lim_(x->0)."), token)
    parser.take()
    opening = parser.take()
    if opening.kind not in ("{", "(") or parser.kind != "name":
        raise parser.fail("limits", say("A limit needs its variable and point."), say(r"Write \lim_{x\to 0}, or lim_(x->0)."), token)
    variable = str(parser.take().value)
    if parser.take().kind != "to":
        raise parser.fail("limits", say("The arrow of the limit is missing."), say(r"Write \lim_{x\to 0}, or lim_(x->0)."), token)
    held = parser.frame
    parser.frame = None
    point, side = _point(parser)
    parser.expect({"{": "}", "(": ")"}[opening.kind], opening)
    parser.frame = held
    return Limit(_operand_of(parser, token, say("It is not clear how far this limit goes.")), variable, point, side)


def _point(parser: Parser) -> tuple[Node, str]:
    r"""The point of a limit and its side: `0^+`, `0^{-}`, `2-`."""
    closers = (")", "}")
    negative = parser.kind == "-"
    if parser.kind in ("-", "+"):
        parser.take()
    point = parser.term()
    terms = [Negative(point) if negative else point]
    while parser.kind in ("+", "-") and parser.tokens[parser.i + 1].kind not in closers:
        minus = parser.take().kind == "-"
        term = parser.term()
        terms.append(Negative(term) if minus else term)
    node = terms[0] if len(terms) == 1 else Sum(tuple(terms))
    if parser.kind in ("+", "-"):
        return node, parser.take().kind
    if parser.kind == "^":
        parser.take()
        braces = parser.kind == "{"
        opening = parser.take() if braces else parser.tokens[parser.i]
        side = parser.take()
        if side.kind not in ("+", "-"):
            raise parser.fail("limits", say("This side of the limit cannot be read."), say(r"Write 0^+ or 0^-."), side)
        if braces:
            parser.expect("}", opening)
        return node, side.kind
    return node, ""
