"""What the terms of a sum share, and what a fraction shares above and below: taking out and cancelling, one visible thing at a time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import gcd, lcm

from ..notation.build import add, divide, multiply, number, rational, summands
from ..notation.tree import Node, Product, Quotient, Sum
from .cancel import alike
from .growth import together
from .terms import Exponent, Term, term_of
from .tidy import join, tidy


def content(numbers: Iterable[Fraction]) -> Fraction:
    """The largest positive number of which all these are whole multiples."""
    known = tuple(numbers)
    return Fraction(gcd(*(n.numerator for n in known)), lcm(*(n.denominator for n in known)))


def _whole_content(node: Node) -> int:
    """The whole number that all terms of a sum share, 1 if there is none."""
    found = content(term_of(t).coefficient for t in node.terms) if isinstance(node, Sum) else Fraction(1)
    return found.numerator if found.denominator == 1 else 1


def taken_out(node: Sum) -> tuple[Node, Node] | None:
    """(common factor, what is left in the bracket) of a sum whose terms share more than a number; None where they do not."""
    terms = [term_of(t) for t in node.terms]
    shared = [(b, e) for b in terms[0].powers_of_bases() if (e := _least([t.exponent(b) for t in terms])) is not None]
    if not shared:
        return None
    shared_number = content(t.coefficient for t in terms)
    front = Term(-shared_number if all(t.coefficient < 0 for t in terms) else shared_number, tuple(shared))
    return join(front), add(*(join(t.over(front)) for t in terms))


def in_whole_numbers(constant: Node, rest: Node) -> tuple[Node, Node]:
    """The same product with the denominators of a sum's terms taken out of it: (1, (u/2 - 5/2)/√u) as (1/2, (u - 5)/√u)."""
    term, below, powers = term_of(rest), 1, []
    for base, exponent in term.powers:
        whole = base
        if isinstance(base, Sum) and exponent == 1:
            shared = lcm(*(term_of(t).coefficient.denominator for t in base.terms))
            whole = tidy(add(*(tidy(multiply(number(shared), t)) for t in base.terms)))
            below *= shared
        powers.append((whole, exponent))
    return (constant, rest) if below == 1 else (tidy(divide(constant, number(below))), join(Term(term.coefficient, tuple(powers))))


def without_content(constant: Node, rest: Node) -> tuple[Node, Node]:
    """The same product with the number taken out that all terms of a sum share: (1/3, 2u^4 - 2u^2) as (2/3, u^4 - u^2)."""
    shared = _whole_content(rest)
    if shared < 2 or not isinstance(rest, Sum):
        return constant, rest
    return tidy(Product((constant, number(shared)))), add(*(tidy(Quotient(t, number(shared))) for t in rest.terms))


def number_out(node: Product) -> Iterator[tuple[Node, Node]]:
    """(a product with the number taken out that all terms of one of its sums share, that number): 3(6x + 2)y as 6(3x + 1)y."""
    for i, factor in enumerate(node.factors):
        shared = _whole_content(factor)
        if shared > 1 and isinstance(factor, Sum):
            inside = add(*(tidy(Quotient(t, number(shared))) for t in factor.terms))
            yield tidy(multiply(number(shared), *node.factors[:i], inside, *node.factors[i + 1 :])), number(shared)


def number_cancelled(node: Quotient) -> tuple[Node, Node] | None:
    """(a fraction with the number cancelled that all terms above share with what stands below, that number)."""
    sizes = [term_of(t).coefficient for t in node.top.terms] if isinstance(node.top, Sum) else []
    below = term_of(node.bottom)
    if not isinstance(node.top, Sum) or any(c.denominator > 1 for c in (*sizes, below.coefficient)):
        return None
    shared = gcd(*(c.numerator for c in sizes), below.coefficient.numerator)
    if shared < 2:
        return None
    top = add(*(tidy(Quotient(t, number(shared))) for t in node.top.terms))
    return divide(top, join(Term(below.coefficient / shared, below.powers))), number(shared)


def _least(exponents: list[Exponent]) -> Exponent | None:
    """The smallest of positive exponents; of exponents that are no numbers the one that goes into all the others."""
    numbers = [e for e in exponents if isinstance(e, Fraction)]
    if len(numbers) == len(exponents):
        return min(numbers) if min(numbers) > 0 else None
    if numbers:
        return None
    for candidate in exponents:
        ratios = [rational(tidy(Quotient(other, candidate))) for other in exponents if not isinstance(other, Fraction)]  # type: ignore[arg-type]
        if all(r is not None and r >= 1 for r in ratios):
            return candidate
    return None


def over_one(node: Sum) -> tuple[Node, Node] | None:
    """(numerator, common denominator) of a sum of fractions, numbers below included; None where none of them has one."""
    one = together(node.terms)
    if not isinstance(one, Quotient):
        return None
    terms = [term_of(t) for t in summands(one.top)]
    whole = Term(Fraction(lcm(*(t.coefficient.denominator for t in terms))))
    return tidy(add(*(join(t.times(whole)) for t in terms))), join(whole.times(term_of(one.bottom)))


def cancelled_alike(node: Node) -> tuple[Node, Node] | None:
    """(the fraction with its visible common factors cancelled, what was cancelled); None where there are none."""
    if not isinstance(node, Quotient):
        return None
    above, below = term_of(node.top), term_of(node.bottom)
    below = alike(below, above)
    quotient = above.over(below)
    left = {b: -e for b, e in quotient.powers if isinstance(e, Fraction) and e < 0}
    gone = tuple((b, e - left.get(b, 0)) for b, e in below.powers if isinstance(e, Fraction) and e > left.get(b, 0))
    if not gone:
        return None
    return join(quotient), join(Term(Fraction(1), gone))


def flat(node: Node) -> Node:
    """A fraction without fractions in its sums: (1 - 1/x)/(1 + 1/x) is (x - 1)/(x + 1)."""
    term = term_of(node)
    made = Term(term.coefficient)
    for base, exponent in term.powers:
        one = over_one(base) if isinstance(base, Sum) and isinstance(exponent, Fraction) and exponent.denominator == 1 else None
        inner = Term(Fraction(1), ((base, exponent),)) if one is None else term_of(Quotient(*one)).raised(Fraction(exponent))  # type: ignore[arg-type]
        made = made.times(inner)
    return join(made)
