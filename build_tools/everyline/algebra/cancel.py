"""Cancelling in a quotient: common polynomial factors and contents, sums that are multiples of each other, fractions inside sums."""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import multiply, number
from ..notation.tree import Name, Node, Power, Sum
from .poly import Coefficients, coefficients, factors, polynomial, product, quotient_remainder
from .terms import Exponent, Term, term_of
from .tidy import join, tidy


def cancelled(top: Node, bottom: Node, variable: str) -> Node:
    """top / bottom with common polynomial factors and contents cancelled."""
    upper_term = term_of(top)
    quotient = upper_term.over(alike(_primitive(term_of(bottom), variable), upper_term))
    upper: list[tuple[Node, Fraction, Coefficients]] = []
    lower: list[tuple[Node, Fraction, Coefficients]] = []
    others: list[tuple[Node, Exponent]] = []
    for base, exponent in quotient.powers:
        values = coefficients(base, variable)
        if values is not None and len(values) > 1 and isinstance(exponent, Fraction) and exponent.denominator == 1:
            (upper if exponent > 0 else lower).append((base, exponent, values))
        else:
            others.append((base, exponent))
    if not upper or not lower:
        return join(quotient)
    above: Coefficients = (Fraction(1),)
    for _, e, v in upper:
        for _ in range(int(e)):
            above = product(above, v)
    kept, coefficient, changed = others, quotient.coefficient, False
    for base, e, values in lower:
        content, parts = factors(values)
        rest, left = _divided_out(above, [(factor, int(-e) * times) for factor, times in parts], variable)
        changed, above = changed or rest != above, rest
        if changed:
            kept += left
            coefficient *= content ** int(e)
        else:
            kept.append((base, e))
    if not changed:
        return join(quotient)
    return tidy(multiply(join(Term(coefficient, tuple(kept))), polynomial(above, Name(variable))))


def _divided_out(
    above: Coefficients, below: list[tuple[Coefficients, int]], variable: str
) -> tuple[Coefficients, list[tuple[Node, Exponent]]]:
    """A polynomial divided by each factor below as often as it goes into it; and the powers that are left below."""
    left: list[tuple[Node, Exponent]] = []
    for factor, times in below:
        remaining = times
        while remaining and len(above) >= len(factor):
            divided, rest = quotient_remainder(above, factor)
            if rest:
                break
            above, remaining = divided, remaining - 1
        if remaining:
            left.append((polynomial(factor, Name(variable)), Fraction(-remaining)))
    return above, left


def _primitive(term: Term, variable: str, signed: bool = True) -> Term:
    """A term with the contents of its polynomial factors in the coefficient."""
    result = Term(term.coefficient)
    for base, exponent in term.powers:
        values = coefficients(base, variable)
        if not isinstance(base, Sum) or values is None or not isinstance(exponent, Fraction) or len(values) < 2:
            result = result.times(Term(Fraction(1), ((base, exponent),)))
            continue
        content, _ = factors(values)
        if exponent.denominator > 1 or not signed:
            content = abs(content)  # no root of a negative number
        raised = term_of(Power(number(content), number(exponent)))
        if raised.powers:
            result = result.times(Term(Fraction(1), ((base, exponent),)))
        else:
            scaled = polynomial(tuple(v / content for v in values), Name(variable))
            result = result.times(Term(raised.coefficient, ((scaled, exponent),)))
    return result


def without_fractions(node: Node, variable: str) -> Node:
    """Sums below a bar or under a root freed of fractions: 1/(3√(1 - x²/9)) is 1/√(9 - x²)."""
    term = term_of(node)
    broken = [
        (b, e)
        for b, e in term.powers
        if isinstance(b, Sum) and isinstance(e, Fraction) and e < 0 and any(term_of(t).coefficient.denominator > 1 for t in b.terms)
    ]
    rest = term.without(*(b for b, _ in broken))
    for base, exponent in broken:
        rest = rest.times(_primitive(Term(Fraction(1), ((base, exponent),)), variable, signed=False))
    return join(rest) if broken else node


def alike(term: Term, other: Term) -> Term:
    """A term whose sums are written like proportional sums of another term: `cos x - sin x` as `-(sin x - cos x)`."""
    result = Term(term.coefficient)
    sums = [b for b, _ in other.powers if isinstance(b, Sum)]
    for base, exponent in term.powers:
        ratio = next(((s, r) for s in sums if isinstance(base, Sum) and (r := proportion(base, s)) is not None), None)
        if ratio is not None and isinstance(exponent, Fraction) and exponent.denominator == 1:
            result = result.times(Term(ratio[1] ** int(exponent), ((ratio[0], exponent),)))
        else:
            result = result.times(Term(Fraction(1), ((base, exponent),)))
    return result


def proportion(a: Sum, b: Sum) -> Fraction | None:
    """r where a = r·b, read off term by term."""
    mine = {frozenset(t.powers): t.coefficient for t in map(term_of, a.terms)}
    theirs = {frozenset(t.powers): t.coefficient for t in map(term_of, b.terms)}
    if mine.keys() != theirs.keys():
        return None
    ratios = {mine[k] / theirs[k] for k in mine}
    return ratios.pop() if len(ratios) == 1 else None
