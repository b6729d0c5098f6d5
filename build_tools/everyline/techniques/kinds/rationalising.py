"""Rationalising substitution: the root itself becomes the new variable."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import lcm

from ...algebra.cancel import cancelled
from ...algebra.expand import split_constant
from ...algebra.poly import linear
from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import (
    ONE,
    ZERO,
    E,
    call,
    divide,
    multiply,
    names,
    negate,
    number,
    power,
    rational,
    rebuild,
    substitute,
    subtract,
    summands,
    walk,
)
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Infinity, Interval, Name, Negative, Node, Power, Quotient, Root
from ..asking import beside, constant_and_rest, depends, differentiate, fresh, integral
from ..base import Example, Shown, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    for radicand, index in _roots(rest, question.variable):
        step = _step(question, constant, rest, radicand, index)
        if step is not None:
            yield step


def _roots(rest: Node, variable: str) -> Iterator[tuple[Node, int]]:
    """Radicands with the least common index of their roots."""
    found: dict[Node, int] = {}
    for part in walk(rest):
        if isinstance(part, Root) and depends(part.radicand, variable):
            found[part.radicand] = lcm(found.get(part.radicand, 1), part.index)
        elif isinstance(part, Power) and depends(part.base, variable):
            term = term_of(part)
            for base, e in term.powers:
                if isinstance(e, Fraction) and e.denominator > 1:
                    found[base] = lcm(found.get(base, 1), e.denominator)
    yield from ((r, n) for r, n in found.items() if n <= 12)


def _solved(radicand: Node, variable: str, value: Node) -> tuple[Node, dict[Node, Node]] | None:
    """x where radicand = value, and what else becomes simple (e^x): linear, a quotient of linears, linear in e^x."""
    line = linear(radicand, variable)
    if line is not None:
        return _turned(subtract(value, line[1]), line[0]), {}
    if isinstance(radicand, Quotient):
        above, below = linear(radicand.top, variable), linear(radicand.bottom, variable)
        top = above or ((ZERO, radicand.top) if not depends(radicand.top, variable) else None)
        bottom = below or ((ZERO, radicand.bottom) if not depends(radicand.bottom, variable) else None)
        if top and bottom:
            # (a x + b)/(c x + d) = w gives x = (d w - b)/(a - c w)
            (a, b), (c, d) = top, bottom
            return _turned(tidy(subtract(multiply(d, value), b)), tidy(subtract(a, multiply(c, value)))), {}
    exponential = power(E, Name(variable))
    marked = linear(_marked(radicand, exponential), "exponential")
    if marked is not None and variable not in names(marked[0]) | names(marked[1]):
        inside = tidy(divide(subtract(value, marked[1]), marked[0]))
        return call("ln", inside), {exponential: inside}
    return None


def _turned(top: Node, bottom: Node) -> Node:
    """A fraction with no minus before all that stands above or below: (8 - u²)/3 for (u² - 8)/(-3)."""
    if any(all(isinstance(t, Negative) for t in summands(part)) for part in (top, bottom)):
        top, bottom = tidy(negate(tidy(top))), tidy(negate(bottom))
    return tidy(divide(top, bottom))


def _marked(node: Node, exponential: Node) -> Node:
    return Name("exponential") if node == exponential else rebuild(node, lambda part: _marked(part, exponential))


def _step(question: Question, constant: Node, rest: Node, radicand: Node, index: int) -> Step | None:
    x, name = question.variable, fresh(question)
    u = Name(name)
    raised = power(u, index)
    solved = _solved(radicand, x, raised)
    if solved is None:
        return None
    inverse, others = solved
    slope = differentiate(inverse, name)
    new = _in_root(rest, radicand, index, u)
    for old, simple in others.items():
        new = _swap(new, old, simple)
    replaced = substitute(new, {x: inverse})
    if x in names(replaced):
        return None
    put_in = integral(beside(tidy(replaced), slope), name, constant if constant != ONE else None)
    new = cancelled(tidy(multiply(replaced, slope)), ONE, name)
    inside: Node = Root(radicand, index)
    outer, inner = split_constant(tidy(multiply(constant, new)), name)
    before = (
        Shown("let", u, inside, say("The root itself becomes the new variable.")),
        Shown("equal", Name(x), inverse, say("Solve for {x}.", x=Name(x))),
        Shown("differential", Name(x), slope, say("Differentiate it.")),
    )
    region = Interval(ZERO, Infinity()) if index % 2 == 0 else None
    result = integral(inner, name, outer if outer != ONE else None)
    through = ((put_in, say("With the root as the new variable no root is left.")),)
    return Step("rationalising", result, say("Simplify."), ((name, inside),), before, region=region, through=through)


def _in_root(node: Node, radicand: Node, index: int, u: Name) -> Node:
    """Every power of the radicand as a power of its root."""
    if node == radicand:
        return power(u, index)
    if isinstance(node, Root) and node.radicand == radicand:
        return power(u, index // node.index)
    if isinstance(node, Power) and node.base == radicand and (e := rational(node.exponent)) is not None and (e * index).denominator == 1:
        return power(u, number(e * index))
    return rebuild(node, lambda part: _in_root(part, radicand, index, u))


def _swap(node: Node, old: Node, new: Node) -> Node:
    """e^x and its whole multiples in the exponent."""
    if node == old:
        return new
    if isinstance(node, Power) and node.base == E:
        times = rational(tidy(divide(node.exponent, old.exponent)))  # type: ignore[attr-defined]
        if times is not None:
            return power(new, number(times))
    return rebuild(node, lambda part: _swap(part, old, new))


TECHNIQUE = Technique(
    id="rationalising",
    title="Rationalising substitution",
    cost=4.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{1 + \sqrt{x}} \, dx"),
        Example(r"\int \frac{\sqrt{x - 4}}{x} \, dx"),
        Example(r"\int \sin\sqrt{x} \, dx"),
        Example(r"\int \sqrt{e^x + 1} \, dx"),
        Example(r"\int \sqrt{x^2 + 1} \, dx", applies=False),
        Example(r"\int \sin x \, dx", applies=False),
    ),
    after=("substitution",),
    explains="u = √(ax + b), a common root of x, or √(eˣ + c): what is left has no root.",
)
