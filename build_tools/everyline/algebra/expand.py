"""Multiplying out and spreading fractions over sums, for any terms (not only polynomials)."""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import ZERO, add, multiply, names, power, summands
from ..notation.tree import Name, Node, Sum
from .poly import coefficients, polynomial
from .terms import Term, term_of
from .tidy import join, tidy

MOST_TERMS = 40


def distribute(node: Node) -> Node:
    """A product or quotient with a sum as a factor above: each term of the sum times the rest. One sum only, the first."""
    neat = tidy(node)
    term = term_of(neat)
    for base, exponent in term.powers:
        if isinstance(base, Sum) and exponent == 1:
            rest = term.without(base)
            return tidy(add(*(join(rest.times(term_of(t))) for t in base.terms)))
    return neat


def multiply_out(node: Node, variable: str | None = None) -> Node:
    """Every product of sums and whole power of a sum above multiplied out; polynomials come highest power first."""
    neat = tidy(node)
    if variable is not None:
        values = coefficients(neat, variable)
        if values is not None:
            return polynomial(values, Name(variable))
    if isinstance(neat, Sum):
        return tidy(add(*(multiply_out(t, variable) for t in neat.terms)))
    term = term_of(neat)
    sums = [(b, e) for b, e in term.powers if isinstance(b, Sum) and isinstance(e, Fraction) and e.denominator == 1 and 0 < e < 12]
    if not sums:
        return neat
    result: list[Term] = [term.without(*(b for b, _ in sums))]
    for base, exponent in sums:
        assert isinstance(base, Sum)
        assert isinstance(exponent, Fraction)
        for _ in range(int(exponent)):
            result = [t.times(term_of(part)) for t in result for part in base.terms]
            if len(result) > MOST_TERMS:
                result = [term_of(t) for t in summands(tidy(add(*(join(t) for t in result))))]
                if len(result) > MOST_TERMS:
                    return neat
    return tidy(add(*(join(t) for t in result)))


def divided_out(node: Node, variable: str, point: Node) -> Node | None:
    """q where the node is a polynomial with letters and equals (x - point) q, by Horner's scheme; None where it is not."""
    degrees: dict[int, list[Node]] = {}
    for part in summands(multiply_out(node)):
        term = term_of(part)
        exponent = term.exponent(Name(variable))
        rest = join(term.without(Name(variable)))
        if not isinstance(exponent, Fraction) or exponent.denominator != 1 or exponent < 0 or variable in names(rest):
            return None
        degrees.setdefault(int(exponent), []).append(rest)
    top = max(degrees)
    carried = tidy(add(*degrees[top]))
    found: list[Node] = []
    for degree in range(top - 1, -1, -1):
        found.append(multiply(carried, power(Name(variable), degree)))
        carried = multiply_out(add(*degrees.get(degree, ()), multiply(carried, point)))
    return tidy(add(*found)) if found and carried == ZERO else None


def split_constant(node: Node, variable: str) -> tuple[Node, Node]:
    """(c, g) with node = c·g, c free of the variable and g with coefficient one and nothing constant in front."""
    term = term_of(tidy(node))
    inside = tuple((b, e) for b, e in term.powers if _depends(b, e, variable))
    outside = tuple(p for p in term.powers if p not in inside)
    return join(Term(term.coefficient, outside)), join(Term(Fraction(1), inside))


def _depends(base: Node, exponent: Fraction | Node, variable: str) -> bool:
    return variable in names(base) or (isinstance(exponent, Node) and variable in names(exponent))


def common_factor(node: Node) -> Node:
    """A sum with the powers that all its terms share taken out: eˣ + x eˣ as eˣ(1 + x)."""
    if not isinstance(node, Sum):
        return node
    terms = [term_of(t) for t in node.terms]
    shared = set(terms[0].powers).intersection(*(set(t.powers) for t in terms[1:]))
    if not shared:
        return node
    front = Term(Fraction(1), tuple(p for p in terms[0].powers if p in shared))
    rest = add(*(join(t.over(front)) for t in terms))
    return multiply(join(front), rest)
