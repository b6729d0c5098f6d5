"""Finishing a derivative as a teacher does: multiply out, an identity, one denominator, a common factor, cancelling. Each is a line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from enum import Enum
from functools import partial
from itertools import combinations

from ..algebra.cancel import cancelled, without_fractions
from ..algebra.common import cancelled_alike, number_cancelled, number_out, over_one, taken_out
from ..algebra.expand import multiply_out
from ..algebra.order import text
from ..algebra.poly import coefficients, factored
from ..algebra.pythagoras import conjugates, reciprocals, shorter
from ..algebra.tidy import tidy
from ..notation.build import add, contains, divide, multiply, negate, size, summands, walk
from ..notation.message import Message, say, sentence
from ..notation.tree import Name, Negative, Node, Product, Quotient, Sum

Way = tuple[tuple[Node, Message], ...]
Back = Callable[[Node], Node]

#: How many expressions are looked at, and how many lines a way may have.
MOST = 60
LINES = 6
#: By how much a line must shorten an answer to be worth writing; what can be cancelled is always cancelled.
WORTH = 1.0
CANCEL = sentence("Cancel {factor}.")
TAKE_OUT = sentence("Take out the common factor {factor}.")


def finished(node: Node, variable: str) -> Way:
    """The lines from an expression to the shortest form that plain algebra leads to; none where it is short as it stands."""
    best: tuple[float, str, Way] = (size(node), text(node), ())
    seen: set[Node] = {node}
    level: list[tuple[Node, Way]] = [(node, ())]
    for _ in range(LINES):
        following: list[tuple[Node, Way]] = []
        for here, way in level:
            for new, reason in rewritings(here, variable):
                if new in seen or len(seen) > MOST or size(new) > 2 * size(node) + 8:
                    continue
                seen.add(new)
                longer = (*way, (new, reason))
                following.append((new, longer))
                best = min(best, (size(new) + _price(longer), text(new), longer), key=lambda b: b[:2])
        level = following
    return best[2]


def _price(way: Way) -> float:
    return WORTH * sum(reason.text != CANCEL for _, reason in way)


def rewritings(node: Node, variable: str) -> Iterator[tuple[Node, Message]]:
    """Every next line that a teacher might write, with its reason."""
    for place, back, where in _places(node, variable):
        for new, reason in _of(place, variable, where):
            yield back(new), reason
        if isinstance(place, Product):
            for new, content in number_out(place):
                yield back(new), say(TAKE_OUT, factor=content)
        if isinstance(place, Product | Quotient):
            for new, rule in reciprocals(place):
                yield back(new), say("Use {identity}.", identity=rule)


def _of(place: Node, variable: str, where: Where) -> Iterator[tuple[Node, Message]]:
    if isinstance(place, Quotient):
        yield from _of_quotient(place, variable)
    if isinstance(place, Sum):
        if where is not Where.INSIDE:
            yield from _taken_out(place, variable)
        yield from _of_sum(place, variable)
        if where is Where.WHOLE:
            yield from _one_bar(place)


class Where(Enum):
    WHOLE = 1
    NUMERATOR = 2
    INSIDE = 3


def _places(node: Node, variable: str, back: Back = lambda new: new, where: Where = Where.WHOLE) -> Iterator[tuple[Node, Back, Where]]:
    """The parts an expression is made of by +, · and a bar, each with the way to put another in its place. Nothing is tidied."""
    yield node, back, where
    match node:
        case Negative(argument=a):
            yield from _places(a, variable, lambda new: back(negate(new)), where)
        case Quotient(top=top, bottom=bottom):
            within = Where.INSIDE if where is Where.INSIDE else Where.NUMERATOR
            yield from _places(top, variable, lambda new: back(divide(new, bottom)), within)
        case Product(factors=factors):
            for i, factor in enumerate(factors):
                if isinstance(factor, Sum | Quotient):
                    around = partial(_among, multiply, factors, i)
                    yield from _places(factor, variable, _both(back, around), Where.INSIDE)
        case Sum(terms=terms):
            for i, term in enumerate(terms):
                if coefficients(term, variable) is None:
                    around = partial(_among, add, terms, i)
                    yield from _places(term, variable, _both(back, around), Where.INSIDE)


def _both(outer: Back, inner: Back) -> Back:
    return lambda new: outer(inner(new))


def _among(join: Callable[..., Node], parts: tuple[Node, ...], i: int, new: Node) -> Node:
    return join(*parts[:i], new, *parts[i + 1 :])


def _of_sum(node: Sum, variable: str) -> Iterator[tuple[Node, Message]]:
    for new, rule in shorter(node):
        yield new, say("Use {identity}.", identity=rule)
    out = multiply_out(node, variable)
    if out != node:
        below = isinstance(out, Sum) and all(isinstance(t, Negative) for t in out.terms)
        yield Negative(tidy(negate(out))) if below else out, say("Multiply out and collect like terms.")


def _one_bar(node: Sum) -> Iterator[tuple[Node, Message]]:
    """All terms over one denominator, or two of several whose denominators are alike; plain powers of a letter stay apart."""
    groups = [node.terms] if len(node.terms) < 3 else [node.terms, *combinations(node.terms, 2)]
    for group in groups:
        one = over_one(Sum(group))
        if one is not None and contains(one[1], Sum):
            others = [t for t in node.terms if t not in group]
            yield add(*others, divide(*one)), say("Bring the terms over one denominator.")


def _taken_out(node: Sum, variable: str) -> Iterator[tuple[Node, Message]]:
    found = None if _expanded(node, variable) else taken_out(node)
    if found is not None:
        front, rest = found
        ordered = multiply_out(rest, variable)
        alike = isinstance(rest, Sum) and _expanded(rest, variable) and len(summands(ordered)) == len(rest.terms)
        yield multiply(front, ordered if alike else rest), say(TAKE_OUT, factor=front)


def _expanded(node: Sum, variable: str) -> bool:
    """Whether a sum is a polynomial without brackets: such an answer is left as it is."""
    return coefficients(node, variable) is not None and not any(isinstance(part, Sum) for t in node.terms for part in walk(t))


def _of_quotient(node: Quotient, variable: str) -> Iterator[tuple[Node, Message]]:
    whole = without_fractions(node, variable)
    if whole != node and size(whole) < size(node):
        yield whole, say("Clear the fractions in the denominator.")
    found = cancelled_alike(node)
    if found is not None:
        yield found[0], say(CANCEL, factor=found[1])
    number = number_cancelled(node)
    if number is not None:
        yield number[0], say(CANCEL, factor=number[1])
    for new, rule in conjugates(node):
        yield new, say("Use {identity}.", identity=rule)
    top, bottom = node.top, node.bottom
    upper = over_one(top) if isinstance(top, Sum) else None
    if upper is not None:
        yield divide(upper[0], tidy(multiply(upper[1], bottom))), say("Multiply above and below by {factor}.", factor=upper[1])
    lower = over_one(bottom) if isinstance(bottom, Sum) else None
    if lower is not None:
        yield divide(tidy(multiply(lower[1], top)), lower[0]), say("Multiply above and below by {factor}.", factor=lower[1])
    for factor in bottom.factors if isinstance(bottom, Product) else ():
        within = over_one(factor) if isinstance(factor, Sum) else None
        if within is not None:
            rest = tidy(divide(bottom, multiply(factor, within[1])))
            yield divide(top, multiply(within[0], rest)), say("Bring {sum} over one denominator.", sum=factor)
    if isinstance(top, Sum) and _expanded(top, variable) and _cancels(node, variable):
        values = coefficients(top, variable)
        if values is not None and len(values) > 1:
            yield divide(tidy(factored(values, Name(variable))), bottom), say("Factor above the bar.")


def _cancels(node: Quotient, variable: str) -> bool:
    """Whether something in a numerator, once factored, goes against the denominator."""
    return size(cancelled(node.top, node.bottom, variable)) < size(node)
