"""Limits at infinity: above and below divided by what grows most below, or the highest power taken out of a sum."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..algebra.growth import leading
from ..algebra.limits import DEEPEST, bounded, tends
from ..algebra.numbers import INFINITY, sign
from ..algebra.poly import coefficients
from ..algebra.terms import Exponent, Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ONE, ZERO, E, add, contains, infinite, multiply, names, negate, power, root, summands
from ..notation.message import Message, say
from ..notation.tree import Infinity, Name, Node, Quotient, Sum


def divided(above: Node, below: Node, variable: str, point: Node) -> Iterator[tuple[Node, Message]]:
    """A fraction with each of its terms divided by the power or exponential that grows most below."""
    x, direction = Name(variable), 1 if isinstance(point, Infinity) else -1
    if variable not in names(below) or not (contains(above, Sum) or contains(below, Sum)):
        return
    lead, upper = leading(below, variable, direction), leading(above, variable, direction)
    if lead is not None and lead[1] > 0 and upper is not None and upper[1] > 0:
        highest = join(Term(Fraction(1), ((x, lead[1]),)))
        scaled = [[_scaled(t, variable, lead[1], direction) for t in summands(part)] for part in (above, below)]
        tops, bottoms = ([t[0] for t in part if t is not None] for part in scaled)
        if len(tops) == len(scaled[0]) and len(bottoms) == len(scaled[1]):
            turned = max((t[1] for part in scaled for t in part if t is not None), default=Fraction(0))
            yield _over(add(*tops), add(*bottoms)), _said(highest, x, int(turned))
    for highest in _exponentials(below, variable, point):
        top, bottom = (add(*(tidy(Quotient(t, highest)) for t in summands(part))) for part in (above, below))
        end = tends(bottom, variable, point, -1, DEEPEST)
        if end is not None and not infinite(end) and sign(end):
            yield _over(top, bottom), say("Divide above and below by {highest}.", highest=highest)


def _over(top: Node, bottom: Node) -> Node:
    """The fraction with its signs where they stand; over 1 what is above."""
    return top if bottom == ONE else Quotient(top, bottom)


def _said(highest: Node, x: Name, turned: int) -> Message:
    """What it is divided by, and that √(x²) is -x far to the left (`turned` is the power whose root changes its sign)."""
    if turned:
        square = root(power(x, 2 * turned))
        return say("Divide above and below by {highest}. For negative {x} it is {square} = {value}.",
                   highest=highest, x=x, square=square, value=negate(power(x, turned)))  # fmt: skip
    return say("Divide above and below by {highest}.", highest=highest)


def _scaled(node: Node, variable: str, degree: Fraction, direction: int) -> tuple[Node, Fraction] | None:
    """A term over x^degree, the power brought under roots: √(x² + 1)/x is √(1 + 1/x²); and the power whose root changed its sign."""
    x = Name(variable)
    term = term_of(node)
    made, left, turned = Term(term.coefficient), -degree, Fraction(0)
    for base, exponent in term.powers:
        values = coefficients(base, variable)
        if base == x and isinstance(exponent, Fraction):
            left += exponent
        elif values is None or not isinstance(exponent, Fraction):
            return None
        elif len(values) == 1:
            made = made.times(Term(Fraction(1), ((base, exponent),)))
        else:
            size = (len(values) - 1) * exponent
            inner = add(*(tidy(Quotient(t, power(x, len(values) - 1))) for t in summands(base)))
            if exponent.denominator % 2 == 0 and direction < 0:
                if size.denominator > 1 or len(values) % 2 == 0:
                    return None
                if size % 2:
                    made, turned = Term(-made.coefficient, made.powers), size
            made = made.times(Term(Fraction(1), ((inner, exponent),)))
            left += size
    rest: tuple[tuple[Node, Exponent], ...] = ((x, left),) if left else ()
    return join(made.times(Term(Fraction(1), rest))), turned


def _exponentials(below: Node, variable: str, point: Node) -> Iterator[Node]:
    """The exponentials below that grow without bound, the fastest first."""
    found: list[tuple[float, Node]] = []
    for t in summands(below):
        exponent = term_of(t).exponent(E)
        if isinstance(exponent, Fraction) or tends(exponent, variable, point, -1) != INFINITY:
            continue
        values = coefficients(exponent, variable)
        if values is not None and len(values) == 2:
            found.append((-abs(float(values[1])), join(Term(Fraction(1), ((E, exponent),)))))
    yield from (node for _, node in sorted(found, key=lambda f: f[0])[:1])


def beside_swings(above: Node, below: Node, variable: str, point: Node) -> tuple[Node, Node] | None:
    """A fraction whose sum below holds one term that grows and others that only swing, divided by that term, and the term."""
    grows = [t for t in summands(below) if not bounded(t)]
    if len(grows) != 1 or len(summands(below)) == 1 or not infinite(tends(grows[0], variable, point, -1)):
        return None
    highest = join(Term(Fraction(1), term_of(grows[0]).powers))
    top, bottom = (add(*(tidy(Quotient(t, highest)) for t in summands(part))) for part in (above, below))
    return Quotient(top, bottom), highest


def taken_out_far(body: Node, variable: str) -> Iterator[tuple[Node, Message]]:
    """x² + 10x as x²(1 + 10/x)."""
    values = coefficients(body, variable)
    if not isinstance(body, Sum) or values is None or len(values) < 2:
        return
    highest = power(Name(variable), len(values) - 1)
    inside = add(*(tidy(Quotient(t, highest)) for t in body.terms))
    yield multiply(highest, inside), say("Take out the highest power {highest}.", highest=highest)


def outgrown(body: Node, variable: str, point: Node) -> tuple[Node, tuple[Node, ...], Node] | None:
    """(the term of a sum that outgrows all others, the others over it, the sum with it taken out)."""
    if not isinstance(body, Sum) or coefficients(body, variable) is not None:
        return None
    for term in body.terms:
        size = tends(term, variable, point, -1)
        others = tuple(tidy(Quotient(o, term)) for o in body.terms if o is not term)
        if size is not None and infinite(size) and all(tends(o, variable, point, -1) == ZERO for o in others):
            return term, others, multiply(term, add(ONE, *others))
    return None
