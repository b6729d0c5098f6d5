"""What all substitutions share: writing the integrand in the new name and the lines that say so."""

from __future__ import annotations

from ..algebra.expand import split_constant
from ..algebra.poly import by_degree, linear
from ..algebra.rewrite import cancelled, express
from ..algebra.tidy import tidy
from ..notation.build import ONE, divide, multiply, number, substitute, subtract
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Name, Node
from .asking import differentiate, fresh, integral
from .base import Shown, Step


def in_terms_of(question: Question, inside: Node, name: str) -> Node | None:
    """g with integrand dx = g(u) du, u = inside; None where x cannot be got rid of."""
    x = question.variable
    slope = differentiate(inside, x)
    if slope == number(0):
        return None
    quotient = cancelled(tidy(question.body), slope, x)
    found = express(quotient, x, inside, name)
    if found is not None:
        return found
    return _solved_for_x(quotient, x, inside, name)


def _solved_for_x(quotient: Node, variable: str, inside: Node, name: str) -> Node | None:
    """A linear inside solved for x: x = (u - b)/a. (Whole even powers are met by `express`.)"""
    line = linear(inside, variable)
    if line is None:
        return None
    a, b = line
    marked = express(quotient, variable, inside, name)
    if marked is not None:
        return marked
    solved = tidy(divide(subtract(Name(name), b), a))
    return tidy(substitute(quotient, {variable: solved}))


def substitution_step(question: Question, technique: str, inside: Node, reason: Message, extra_cost: float = 0.0) -> Step | None:
    """The step `∫ f dx = c ∫ g du`, with its lines `let u = …`, `du = …`."""
    x = question.variable
    name = fresh(question)
    found = in_terms_of(question, inside, name)
    if found is None:
        return None
    constant, rest = split_constant(cancelled(found, ONE, name), name)
    slope = differentiate(inside, x)
    before: tuple[Shown, ...] = (
        Shown("let", Name(name), inside, say("Choose the inside as the new variable.")),
        Shown("differential", Name(name), slope, say("Differentiate it.")),
    )
    line = by_degree(inside, x, 1)
    if line is not None and len(line) == 2 and _needs_x(question, inside, slope, name):
        solved = tidy(divide(subtract(Name(name), line[0]), line[1]))
        before = (*before, Shown("equal", Name(x), solved, say("Solve for {x}, which is still there.", x=Name(x))))
    result = integral(rest, name, None if constant == ONE else constant)
    return Step(technique, result, reason, ((name, inside),), before, extra_cost=extra_cost)


def _needs_x(question: Question, inside: Node, slope: Node, name: str) -> bool:
    """Whether the variable stands alone in the integrand beside the inside."""
    left = express_inside_only(tidy(multiply(question.body)), inside, name)
    return question.variable in _names(left)


def _names(node: Node) -> frozenset[str]:
    from ..notation.build import names

    return names(node)


def express_inside_only(node: Node, inside: Node, name: str) -> Node:
    from ..notation.build import replace

    return replace(node, inside, Name(name))
