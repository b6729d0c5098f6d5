"""Standard limits at zero: sin u / u, (1 - cos u)/u², (eᵘ - 1)/u, ln(1 + u)/u."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ..algebra.poly import linear
from ..algebra.terms import term_of
from ..algebra.tidy import tidy
from ..notation.build import ONE, ZERO, E, number, rational, subtract
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Call, Name, Node, Sum
from .base import Example, Step, Technique
from .limiting import node_of

_LIKE_THEIR_ARGUMENT = {"sin", "tan", "arcsin", "arctan", "sinh", "tanh", "arsinh"}


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    if node.point != ZERO:
        return
    term = term_of(question.body)
    x = Name(node.variable)
    coefficient, degree, known = term.coefficient, Fraction(0), 0
    for base, exponent in term.powers:
        if not isinstance(exponent, Fraction):
            return
        like = (Fraction(1), 1) if base == x else _like(base, node.variable)
        if like is None or (like[0] < 0 and exponent.denominator % 2 == 0):
            return
        known += base != x
        coefficient *= like[0] ** int(exponent) if exponent.denominator == 1 else 0
        degree += like[1] * exponent
    if degree == 0 and known and coefficient:
        yield Step("limit-standard", number(coefficient), say("Use the standard limits at zero."))


def _like(base: Node, variable: str) -> tuple[Fraction, int] | None:
    """(c, k) where the base behaves like c·x^k at zero."""
    if isinstance(base, Call) and base.function in _LIKE_THEIR_ARGUMENT:
        return _slope(base.argument, variable, 1)
    if isinstance(base, Call) and base.function == "ln" and isinstance(base.argument, Sum):
        return _slope(tidy(subtract(base.argument, ONE)), variable, 1)
    if isinstance(base, Sum) and len(base.terms) == 2:
        moving = [t for t in base.terms if variable in _names(t)]
        if len(moving) == 1:
            constant = rational(next(t for t in base.terms if t is not moving[0]))
            term = term_of(moving[0])
            if constant is not None and term.coefficient == -constant and len(term.powers) == 1:
                inner, e = term.powers[0]
                if inner == E and not isinstance(e, Fraction):
                    found = _slope(e, variable, 1)
                    return None if found is None else (found[0] * term.coefficient, 1)
                if isinstance(inner, Call) and inner.function == "cos" and e == 1:
                    found = _slope(inner.argument, variable, 1)
                    return None if found is None else (-term.coefficient * found[0] ** 2 / 2, 2)
    return None


def _slope(argument: Node, variable: str, degree: int) -> tuple[Fraction, int] | None:
    line = linear(argument, variable)
    value = None if line is None or line[1] != ZERO else rational(line[0])
    return None if value is None else (value, degree)


def _names(node: Node) -> frozenset[str]:
    from ..notation.build import names

    return names(node)


TECHNIQUE = Technique(
    id="limit-standard",
    title="Standard limits",
    cost=2.0,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 0} \frac{\sin 4x}{x}"),
        Example(r"\lim_{x \to 0} \frac{1 - \cos x}{x^2}"),
        Example(r"\lim_{x \to 0} \frac{e^{3x} - 1}{x}"),
        Example(r"\lim_{x \to 1} \frac{x^2 - 1}{x - 1}", applies=False),
        Example(r"\lim_{x \to 0} \frac{\cos x}{x + 1}", applies=False),
    ),
    explains="sin u / u tends to 1 as u tends to 0, and its relatives.",
)
