"""What every technique asks of a question: its integrand, fresh names, constants in front."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from ..algebra.expand import split_constant
from ..algebra.order import text
from ..algebra.tidy import tidy
from ..algebra.derivative import derivative
from ..notation.build import multiply, names, substitute, walk
from ..notation.question import Question
from ..notation.tree import Absolute, Call, Integral, Name, Node, Power, Product, Quotient, Root, Sum


def is_indefinite(question: Question) -> bool:
    return question.kind == "indefinite"


def integrand(question: Question) -> Node:
    return tidy(question.body)


def constant_and_rest(question: Question) -> tuple[Node, Node]:
    return split_constant(question.body, question.variable)


def integral(node: Node, variable: str, constant: Node | None = None) -> Node:
    """c ∫ node d(variable)."""
    whole = Integral(node, variable)
    return whole if constant is None else tidy(multiply(constant, whole))


def fresh(question: Question, wanted: str = "uvwstzypqr") -> str:
    """A letter that the question does not use."""
    used = names(question.body) | question.given.names | {question.variable}
    return next(letter for letter in wanted if letter not in used)


@lru_cache(maxsize=5_000)
def differentiate(node: Node, variable: str) -> Node:
    """The derivative, written neatly."""
    return tidy(derivative(node, variable))


def depends(node: Node, variable: str) -> bool:
    return variable in names(node)


def subexpressions(node: Node, variable: str) -> Iterator[Node]:
    """Every different part that holds the variable, the largest first; the variable itself is not one."""
    seen: dict[Node, None] = {}
    for part in walk(node):
        if isinstance(part, Name) or not depends(part, variable):
            continue
        seen.setdefault(part, None)
    yield from sorted(seen, key=lambda n: (-len(text(n)), text(n)))


def insides(node: Node, variable: str) -> Iterator[Node]:
    """Insides of functions, of powers, of roots and exponents that hold the variable."""
    for part in walk(node):
        inner: Node | None = None
        match part:
            case Call(argument=argument) | Absolute(argument=argument):
                inner = argument
            case Power(base=base, exponent=exponent):
                inner = exponent if depends(exponent, variable) else base
            case Root(radicand=radicand):
                inner = radicand
            case Quotient(bottom=bottom) if isinstance(bottom, Sum):
                inner = bottom
            case Product():
                continue
        if inner is not None and not isinstance(inner, Name) and depends(inner, variable):
            yield inner


def put_back(node: Node, name: str, inside: Node) -> Node:
    return tidy(substitute(node, {name: inside}))
