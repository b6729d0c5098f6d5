"""Reading a text: one tree, or an error that says what could be meant."""

from __future__ import annotations

import re
from collections.abc import Callable

from .build import rational, walk
from .context import Context
from .errors import NotationError, Reading
from .latex import latex
from .lexer import Lexer
from .message import either, say
from .parser import Ask, Parser
from .patterns import LETTER
from .plain import plain
from .tokens import Token
from .tree import ArbitraryConstant, Equation, Negative, Node, Product, Quotient, Sum
from .words import SAME_LENGTH

MAX_READINGS = 8
_MAX_RUNS = 40
#: `F(x) =`, `f'(t) =`, `y =`, `dy/dx =`.
_ANSWER_HEAD = re.compile(rf"\s*\$*\s*(?:[A-Za-z]'*\s*\(\s*{LETTER}\s*\)|[yFIfg]'*|d[yFf]\s*/\s*d{LETTER})\s*=(?!=)")

Rule = Callable[[Parser], Node]


def parse(text: str, context: Context, *, answer: bool = False) -> Node:
    """The tree of a formula, an equation, an inequality or an answer in words.

    `answer` drops a leading `F(x) =`, `y =` or `dy/dx =`, as students write it. Raises NotationError; where the text can be read in several
    ways its `readings` say how to write each.
    """
    trees, ask = _read(text, context, answer)
    if ask is not None:
        raise ambiguous(trees, ask)
    return trees[0]


def readings(text: str, context: Context, *, answer: bool = False) -> tuple[Node, ...]:
    """Every way to read a text, at most 8; one if it is clear. Raises NotationError if there is none, or too many.

    Where more than five places are doubtful, all places of one kind are read alike.
    """
    return tuple(_read(text, context, answer)[0])


def _read(text: str, context: Context, answer: bool) -> tuple[list[Node], Ask | None]:
    head = _ANSWER_HEAD.match(text.translate(SAME_LENGTH)) if answer else None
    if head is None:
        return explore(Lexer(text, context).run(), context, Parser.statement)
    rest = text[head.end() :]
    try:
        trees, ask = _read(rest.rstrip(" $") if "$" in head[0] else rest, context, False)
    except NotationError as error:
        raise error.shifted(head.end()) from None
    return trees, ask and ask._replace(start=ask.start + head.end(), end=ask.end + head.end())


def ambiguous(trees: list[Node], ask: Ask) -> NotationError:
    """The error for a text that has several readings."""
    ways = tuple(Reading(tree, latex(tree), plain(tree)) for tree in trees)
    help = say("Write {ways}.", ways=either([way.plain for way in ways]))
    if ask.kind == "log":
        help = say("Write ln x for the natural logarithm and log_10(x) for the one to base 10.")
    return NotationError("ambiguous", ask.message, ask.start, ask.end, help, ways)


def explore(tokens: list[Token], context: Context, rule: Rule) -> tuple[list[Node], Ask | None]:
    """The different trees of some tokens, and the first place that was asked about (None when there is one tree only)."""
    parser = Parser(tokens, context)
    try:
        tree: Node | None = _run(parser, rule)
        error = None
    except NotationError as caught:
        tree, error = None, caught
    if not parser.asked:
        if error is not None:
            raise error
        assert tree is not None
        return [tree], None
    if len(parser.asked) > 5:
        trees, ask = _alike(tokens, context, rule, parser.asked)
    else:
        trees, ask = _every(tokens, context, rule, tree, parser.asked)
    if not trees:
        raise error or NotationError("syntax", say("This cannot be read."), 0, tokens[-1].end)
    if len(trees) > MAX_READINGS:
        trees, ask = _alike(tokens, context, rule, parser.asked)
    return trees, ask if len(trees) > 1 else None


def _every(tokens: list[Token], context: Context, rule: Rule, first: Node | None, asked: list[Ask]) -> tuple[list[Node], Ask]:
    """The trees of every plan."""
    trees = [first] if first is not None else []
    waiting = _next_plans((), asked)
    ask = asked[0]
    runs = 0
    while waiting and runs < _MAX_RUNS:
        plan = waiting.pop(0)
        runs += 1
        parser = Parser(tokens, context, plan)
        try:
            tree = _run(parser, rule)
        except NotationError as error:
            if error.code == "limit":
                raise  # a reading that is too large to be weighed is still a reading
            tree = None
        if tree is not None and tree not in trees:
            ask = parser.asked[len(plan) - 1] if len(trees) == 1 else ask
            trees.append(tree)
        waiting += _next_plans(plan, parser.asked)
    if waiting:
        raise _too_doubtful(asked)
    return trees, ask


def _next_plans(plan: tuple[int, ...], asked: list[Ask]) -> list[tuple[int, ...]]:
    return [
        (*plan, *([0] * (place - len(plan))), other)
        for place in range(len(plan), len(asked))
        for other in range(1, asked[place].ways)
    ]  # fmt: skip


def _alike(tokens: list[Token], context: Context, rule: Rule, asked: list[Ask]) -> tuple[list[Node], Ask]:
    """With many doubtful places: the readings that settle every place of one kind in the same way."""
    kinds = sorted({ask.kind for ask in asked})
    if len(kinds) > 3:
        raise _too_doubtful(asked)
    trees: list[Node] = []
    for number in range(2 ** len(kinds)):
        parser = Parser(tokens, context, (), {kind: number >> place & 1 for place, kind in enumerate(kinds)})
        try:
            tree = _run(parser, rule)
        except NotationError as error:
            if error.code == "limit":
                raise
            continue
        if tree not in trees:
            trees.append(tree)
    if len(trees) == 1:
        raise _too_doubtful(asked)
    return trees, asked[0]


def _too_doubtful(asked: list[Ask]) -> NotationError:
    help = say("Use \\frac, brackets, and \\left| \\right| for absolute values.")
    return NotationError("limit", say("Too much of this can be read in two ways."), asked[0].start, asked[0].end, help)


def _run(parser: Parser, rule: Rule) -> Node:
    tree = rule(parser)
    _check_constants(tree, parser)
    return tree


def _check_constants(tree: Node, parser: Parser) -> None:
    """Only C may stand anywhere; c, k, K and C_1 are constants of integration as added terms."""
    loose = [t for t in parser.tokens if t.kind == "arbitrary" and t.value != "C"]
    if not loose:
        return
    fine = set(map(id, _added(tree)))
    for node in walk(tree):
        if isinstance(node, ArbitraryConstant) and node.name != "C" and id(node) not in fine:
            token = next(t for t in loose if t.value == node.name)
            raise NotationError(
                "undeclared", say("“{name}” is not declared.", name=node.name), token.start, token.end,
                say("A constant of integration is added at the end. If {name} is a parameter, say so under “given”.", name=node.name),
            )  # fmt: skip


def _added(node: Node) -> list[Node]:
    """The parts of a tree that are added to the rest, up to a number as factor."""
    match node:
        case Sum(terms=parts):
            return [found for part in parts for found in _added(part)]
        case Equation(left=left, right=right):
            return _added(left) + _added(right)
        case Negative(argument=inner):
            return _added(inner)
        case Product(factors=parts) if sum(rational(p) is None for p in parts) == 1:
            return _added(next(p for p in parts if rational(p) is None))
        case Quotient(top=top, bottom=bottom) if rational(bottom) is not None:
            return _added(top)
    return [node]
