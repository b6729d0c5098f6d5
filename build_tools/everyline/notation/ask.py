"""Reading what a problem asks and what it assumes."""

from __future__ import annotations

import re
from dataclasses import replace

from .build import ZERO
from .calculus import NO_DX, NO_DX_HELP
from .context import Context
from .errors import NotationError
from .lexer import Lexer
from .message import say
from .parser import Parser
from .patterns import letter_name
from .question import Given, Parameter, Question
from .read import ambiguous, explore
from .tokens import Token
from .tree import Derivative, Inequality, Integral, Limit, Name, Node
from .words import FUNCTION_WORDS, GREEK, GREEK_SIGNS

_NOT_A_QUESTION = say("This is no integral, derivative or limit.")
_ASK_HELP = say(r"Write \int … dx, \frac{d}{dx} (…) or \lim_{x\to 0} (…).")
_WORDS_HELP = say("Leave words out: the page says by itself what is to be done.")


def parse_question(text: str, given: Given, context: Context) -> Question:
    """The integral, derivative or limit that a text asks for; its own variable needs no declaration. Raises NotationError."""
    inside = replace(context, names=context.names | given.names, parameters=context.parameters | given.names, constants=False)
    trees, ask = explore(_tokens(text, inside), inside, Parser.statement)
    questions = [tree for tree in trees if isinstance(tree, Integral | Derivative | Limit)]
    if not questions:
        raise NotationError("question", _NOT_A_QUESTION, 0, len(text), _ASK_HELP)
    if len(questions) > 1:
        assert ask is not None
        raise ambiguous(list(questions), ask)
    node = questions[0]
    if node.variable in given.names:
        message = say("{variable} is a parameter here and cannot be the variable as well.", variable=node.variable)
        raise NotationError("question", message, 0, len(text), say("Use another letter for one of them."))
    return Question(node, given)


#: A word of a sentence: longer than letters that somebody multiplies.
_WORD = re.compile(r"[A-Za-z]{4,}(?=[\s:.,]|$)")


def _tokens(text: str, context: Context) -> list[Token]:
    """The tokens of a question. A letter is unknown there for one of three reasons: a word, no dx, or a parameter nobody declared."""
    lexer = Lexer(text, context)
    asked = text.rstrip("$ \n")
    if asked.endswith("="):
        raise NotationError("question", say("A question ends before its equals sign."), len(asked) - 1, len(asked), say("Leave the = out."))
    try:
        return lexer.run()
    except NotationError as error:
        if error.code != "undeclared":
            raise
        word = _WORD.match(text, error.start)
        if word and error.end == error.start + 1:  # longer ones came with a word that looks like it
            raise NotationError(
                "question", say("“{word}” is a word, not part of a formula.", word=word[0]), *word.span(), _WORDS_HELP
            ) from None
        if lexer.names != context.names:  # the text says what its variable is
            raise
        if lexer.integral:
            raise NotationError("differential", NO_DX, 0, len(text), NO_DX_HELP) from None
        raise NotationError("question", _NOT_A_QUESTION, 0, len(text), _ASK_HELP) from None


_PART = re.compile(r"[^,;]+")
_RELATION = re.compile(r"<=|>=|!=|<|>|=|≤|≥|≠|\\(?:lt|gt|leq?|geq?|neq?|leqslant|geqslant)(?![A-Za-z])")
_LETTERS = re.compile(rf"\\?[A-Za-z]+(?:_(?:\d+|\{{\w+\}}|[A-Za-z](?![A-Za-z])))?|[{''.join(GREEK_SIGNS)}](?:_\d+)?")
_DESCRIBED = re.compile(
    r"\s*(?P<name>\\?[A-Za-z]+(?:_\{?\w+\}?)?|[^\W\d])\s*(?:\s(?:is|are|be)\s)?\s*(?P<words>[a-z][a-z -]*)?\s*$", re.DOTALL
)
_GIVEN_HELP = say("Write for example: a > 0, n a positive integer, b real.")
#: Words about a parameter: (whole number?, relation to zero).
_KINDS: dict[str, tuple[bool, str]] = {
    "real": (False, ""), "constant": (False, ""), "number": (False, ""), "parameter": (False, ""), "real number": (False, ""),
    "positive": (False, ">"), "negative": (False, "<"), "nonzero": (False, "!="), "nonnegative": (False, ">="),
    "integer": (True, ""), "whole number": (True, ""), "natural number": (True, ">"),
}  # fmt: skip


def parse_given(text: str, context: Context) -> Given:
    """Parameters and what is assumed of them: `a > 0, n a positive integer`, `a, b real`, `a != b`. Raises NotationError."""
    whole: dict[str, bool] = {}
    conditions: list[Inequality] = []
    waiting: list[str] = []
    place = 0
    for match in _PART.finditer(re.sub(r"(?<=\s)and(?=\s)", "  ,", text)):
        part, place = match[0], match.start()
        if not part.strip():
            continue
        if _RELATION.search(part):
            conditions += _conditions(part, place, waiting, whole, context)
            waiting = []
            continue
        name, kinds = _description(part, place)
        waiting.append(name)
        whole.setdefault(name, False)
        if kinds is not None:
            for each in waiting:
                whole[each] = whole[each] or kinds[0]
                conditions += [Inequality(Name(each), kinds[1], ZERO)] if kinds[1] else []
            waiting = []
    if not whole:
        raise NotationError("given", say("No parameter is named here."), 0, len(text), _GIVEN_HELP)
    unique = tuple(dict.fromkeys(conditions))
    return Given(tuple(Parameter(name, integer) for name, integer in whole.items()), unique)


def _description(part: str, place: int) -> tuple[str, tuple[bool, str] | None]:
    """A name and, where words follow it, what they say."""
    start = place + len(part) - len(part.lstrip())
    match = _DESCRIBED.match(part)
    name = letter_name(match["name"]) if match else ""
    if match is None or not (len(name.partition("_")[0]) == 1 or name.partition("_")[0] in GREEK):
        raise NotationError("given", say("This says nothing that can be read about a parameter."), start, place + len(part), _GIVEN_HELP)
    if name in ("e", "pi"):
        raise NotationError(
            "given", say("{name} is a number already.", name=name), start, place + len(part), say("Use another letter for the parameter.")
        )
    words = (match["words"] or "").strip()
    if not words:
        return name, None
    whole, sign = False, ""
    plainer = re.sub(r"\b(?:a|an|any|the|some|is|are|fixed|both|all)\b", " ", words.replace("non-", "non").replace("not zero", "nonzero"))
    for word in re.findall(r"(?:real|whole|natural) numbers?|[a-z]+", plainer):
        known = _KINDS.get(word) or _KINDS.get(word.removesuffix("s"))
        if known is None:
            raise NotationError("given", say("“{word}” is not understood here.", word=word), start, place + len(part), _GIVEN_HELP)
        whole, sign = whole or known[0], sign or known[1]
    return name, (whole, sign)


def _conditions(part: str, place: int, waiting: list[str], whole: dict[str, bool], context: Context) -> list[Inequality]:
    """`a > 0`, `0 < a < b`, and `a, b > 0` for every name that waits."""
    for letters in _LETTERS.findall(part):
        word = letter_name(letters)
        base = word.partition("_")[0]
        if base in FUNCTION_WORDS or word in ("e", "pi", "infinity", "infty", "oo") or f"\\{letters.lstrip(chr(92))}" in _RELATIONS_WORDS:
            continue
        for name in [word] if len(base) == 1 or base in GREEK or word in context.names else list(base):
            whole.setdefault(name, False)
    local = replace(context, names=context.names.union(whole), parameters=frozenset(whole), constants=False)
    try:
        parser = Parser(Lexer(part, local).run(), local)
        sides: list[Node] = [parser.sum()]
        relations: list[str] = []
        while parser.kind == "relation" and len(relations) < 2:
            relations.append(str(parser.take().value))
            sides.append(parser.sum())
        if parser.kind == "=":
            raise parser.fail("given", say("An equation is not an assumption."), _GIVEN_HELP)
        if parser.kind != "end":
            raise parser.unexpected()
    except NotationError as error:
        raise error.shifted(place) from None
    if parser.asked:
        ask = parser.asked[0]
        raise NotationError(
            "ambiguous", ask.message, place + ask.start, place + ask.end, say("Put brackets so that it can be read in one way only.")
        )
    found = [Inequality(a, relation, b) for a, relation, b in zip(sides, relations, sides[1:], strict=False)]
    return [Inequality(Name(name), relations[0], sides[1]) for name in waiting if isinstance(sides[0], Name)] + found


_RELATIONS_WORDS = frozenset(f"\\{word}" for word in ("lt", "gt", "le", "leq", "ge", "geq", "ne", "neq", "leqslant", "geqslant"))
