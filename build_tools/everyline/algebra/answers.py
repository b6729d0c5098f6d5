"""A number as the last line of a worked solution has it: logarithms taken together, no fraction of fractions, no leading minus."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction

from flint import fmpz

from ..notation.build import add, call, divide, multiply, names, negate, number, rational, replace, size, walk
from ..notation.tree import Absolute, Call, Negative, Node, Quotient, Sum
from .common import flat
from .expand import multiply_out
from .numbers import is_zero, sign
from .terms import term_of
from .tidy import tidy


def answer(node: Node) -> Node:
    """The number, tidied to the end; with letters in it only tidied."""
    neat = tidy(node)
    if names(neat):
        return _with_letters(neat)
    if rational(neat) is not None:
        return neat
    neat = _logarithms(_spread(neat))
    if isinstance(neat, Sum) and is_zero(neat):
        return number(0)
    return _positive_first(neat)


def _with_letters(node: Node) -> Node:
    """No bars where the sign is known, no fraction in a denominator, 1/(p - 1) rather than -1/(1 - p)."""
    for part in [p for p in walk(node) if isinstance(p, Absolute) and sign(p.argument)]:
        node = replace(node, part, part.argument if sign(part.argument) > 0 else negate(part.argument))
    node = min(tidy(node), flat(tidy(node)), key=size)
    if isinstance(node, Negative) and isinstance(node.argument, Quotient) and isinstance(node.argument.bottom, Sum):
        below = node.argument.bottom
        if any(isinstance(part, Negative) for part in below.terms):
            turned = Sum(tuple(negate(part) for part in below.terms))
            return divide(node.argument.top, _positive_first(turned))
    return node


def _spread(node: Node) -> Node:
    """A number times a sum with fractions in it multiplied out; a minus before a sum with one is brought inside."""
    if isinstance(node, Sum):
        return tidy(add(*map(_spread, node.terms)))
    term = term_of(node)
    sums = [base for base, exponent in term.powers if isinstance(base, Sum) and exponent == 1]
    if len(sums) != 1 or len(term.powers) != 1:
        return node
    (inside,) = sums
    assert isinstance(inside, Sum)
    shares = [term_of(part).coefficient for part in inside.terms]
    if any(share.denominator != 1 for share in shares) or all(share % term.coefficient.denominator == 0 for share in shares):
        return multiply_out(node)
    if term.coefficient < 0 and any(share < 0 for share in shares):
        turned = _positive_first(add(*(negate(part) for part in inside.terms)))
        return multiply(number(-term.coefficient), turned) if term.coefficient.denominator == 1 else _over(turned, -term.coefficient)
    return node


def _over(above: Node, share: Fraction) -> Node:
    return divide(multiply(number(share.numerator), above), number(share.denominator))


def _positive_first(node: Node) -> Node:
    """2e - 2 rather than -2 + 2e."""
    if not isinstance(node, Sum) or (not isinstance(node.terms[0], Negative) and (rational(node.terms[0]) or 0) >= 0):
        return node
    first = next((t for t in node.terms if not isinstance(t, Negative) and (rational(t) or 1) > 0), None)
    return node if first is None else Sum((first, *(t for t in node.terms if t is not first)))


def _logarithms(node: Node) -> Node:
    """Logarithms of whole numbers in those of primes, where that makes fewer of them: ln 6 - ln 2 is ln 3."""
    terms = node.terms if isinstance(node, Sum) else (node,)
    primes: defaultdict[int, Fraction] = defaultdict(Fraction)
    others: list[Node] = []
    for part in terms:
        found = _number_in_logarithm(part)
        if found is None:
            others.append(part)
            continue
        share, inside = found
        for whole, way in ((inside.numerator, 1), (inside.denominator, -1)):
            for prime, power in fmpz(whole).factor():
                primes[int(prime)] += share * way * power
    kept = {prime: share for prime, share in primes.items() if share}
    if len(kept) >= len(terms) - len(others):
        return node
    return tidy(add(*others, *(multiply(number(share), call("ln", number(prime))) for prime, share in kept.items())))


def _number_in_logarithm(node: Node) -> tuple[Fraction, Fraction] | None:
    """The coefficient and the inside of q ln p."""
    term = term_of(node)
    if len(term.powers) != 1 or term.powers[0][1] != 1 or not isinstance(term.powers[0][0], Call):
        return None
    function = term.powers[0][0]
    inside = rational(function.argument) if function.function == "ln" else None
    return None if inside is None or inside <= 0 else (term.coefficient, inside)
