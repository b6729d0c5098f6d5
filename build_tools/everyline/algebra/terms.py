"""A product as data: a rational coefficient and powers of bases. The ground that `tidy` and every technique stand on.

Only rewritings that hold wherever the left side is defined are made: `(x^2)^(1/2)` is left alone, `(x^3)^(1/2)` is x^(3/2).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import isqrt

from ..notation.build import ONE, E, add, number, rational
from ..notation.tree import Absolute, Call, Negative, Node, Number, Power, Product, Quotient, Root

Exponent = Fraction | Node


@dataclass(frozen=True, slots=True)
class Term:
    """`coefficient` times the product of base^exponent; an exponent is a Fraction where it is a rational number."""

    coefficient: Fraction
    powers: tuple[tuple[Node, Exponent], ...] = ()

    def exponent(self, base: Node) -> Exponent:
        return dict(self.powers).get(base, Fraction(0))

    def powers_of_bases(self) -> tuple[Node, ...]:
        """The bases, in order."""
        return tuple(base for base, _ in self.powers)

    def without(self, *bases: Node) -> Term:
        return Term(self.coefficient, tuple(p for p in self.powers if p[0] not in bases))

    @property
    def halves(self) -> tuple[Term, Term]:
        """What stands above the bar, the coefficient with it, and what stands below."""
        below = tuple((b, -e) for b, e in self.powers if isinstance(e, Fraction) and e < 0)
        above = tuple((b, e) for b, e in self.powers if not isinstance(e, Fraction) or e > 0)
        return Term(self.coefficient, above), Term(Fraction(1), below)

    def times(self, other: Term) -> Term:
        return collect(self.coefficient * other.coefficient, self.powers + other.powers)

    def over(self, other: Term) -> Term:
        return self.times(other.raised(Fraction(-1)))

    def raised(self, exponent: Fraction) -> Term:
        """The whole-number power of the term."""
        if self.coefficient == 0 and exponent < 0:
            raise ZeroDivisionError
        powers = tuple((b, _scaled(e, exponent)) for b, e in self.powers)
        return collect(self.coefficient ** int(exponent), powers)


def _scaled(exponent: Exponent, by: Fraction) -> Exponent:
    from .tidy import tidy

    if isinstance(exponent, Fraction):
        return exponent * by
    return tidy(Product((number(by), exponent)))


def _added(a: Exponent, b: Exponent) -> Exponent:
    from .tidy import tidy

    if isinstance(a, Fraction) and isinstance(b, Fraction):
        return a + b
    total = tidy(add(as_node(a), as_node(b)))
    value = rational(total)
    return total if value is None else value


def as_node(exponent: Exponent) -> Node:
    return number(exponent) if isinstance(exponent, Fraction) else exponent


def _whole_root(value: int, index: int) -> int | None:
    """The index-th root of a positive whole number, where it is whole."""
    found = isqrt(value) if index == 2 else round(value ** (1 / index)) if value < 10**15 else 0
    return found if found**index == value else None


def _numeric_power(value: int, exponent: Fraction) -> tuple[Fraction, tuple[tuple[Node, Exponent], ...]]:
    """value^exponent as a rational number times a root of a number free of such powers: 8^(1/2) = 2·2^(1/2), 2^(-1/2) = 1/2·2^(1/2)."""
    whole = exponent.numerator // exponent.denominator
    coefficient, rest = Fraction(value) ** whole, exponent - whole
    if rest == 0 or value == 1:
        return coefficient, ()
    p, q = rest.numerator, rest.denominator
    inside, outside = value, 1
    if value < 10**9:
        for k in range(2, 200):
            while inside % k**q == 0:
                inside, outside = inside // k**q, outside * k
        exact = _whole_root(inside, q)
        if exact is not None:
            inside, outside = 1, outside * exact
    coefficient *= Fraction(outside) ** p
    return coefficient, (((Number(Fraction(inside)), rest),) if inside != 1 else ())


def collect(coefficient: Fraction, powers: Iterable[tuple[Node, Exponent]]) -> Term:
    """The term with equal bases met once, whole powers of numbers in the coefficient and roots of numbers reduced."""
    if coefficient == 0:
        return Term(Fraction(0))
    gathered: dict[Node, Exponent] = {}
    for base, exponent in powers:
        gathered[base] = _added(gathered[base], exponent) if base in gathered else exponent
    kept: list[tuple[Node, Exponent]] = []
    roots: dict[Fraction, int] = {}
    for base, exponent in gathered.items():
        if exponent == 0:
            continue
        if isinstance(base, Number) and isinstance(exponent, Fraction):
            if base.value == 0:
                return Term(Fraction(0))
            if base.value.denominator == 1:
                factor, rest = _numeric_power(base.value.numerator, exponent)
                coefficient *= factor
                for b, e in rest:
                    assert isinstance(b, Number)
                    assert isinstance(e, Fraction)
                    roots[e] = roots.get(e, 1) * b.value.numerator
                continue
        kept.append((base, exponent))
    for e, inside in sorted(roots.items()):
        factor, rest = _numeric_power(inside, e)
        coefficient *= factor
        kept += rest
    return Term(coefficient, tuple(kept))


@lru_cache(maxsize=50_000)
def term_of(node: Node) -> Term:
    """A node that is already tidy, or any product, quotient or power, as a Term (its parts are tidied on the way)."""
    from .tidy import tidy

    value = rational(node)
    if value is not None:
        return Term(value)
    match node:
        case Product(factors=factors):
            result = Term(Fraction(1))
            for factor in factors:
                result = result.times(term_of(factor))
            return result
        case Quotient(top=top, bottom=bottom):
            below = term_of(bottom)
            return Term(Fraction(1), ((node, Fraction(1)),)) if below.coefficient == 0 else term_of(top).over(below)
        case Power(base=base, exponent=exponent):
            return _power_term(base, tidy(exponent))
        case Root(radicand=radicand, index=index):
            return _power_term(radicand, number(Fraction(1, index)))
        case Call(function="exp", argument=argument):
            return _power_term(E, tidy(argument))
        case Negative(argument=argument):
            inner = term_of(argument)
            return Term(-inner.coefficient, inner.powers)
    neat = tidy(node)
    if neat != node or isinstance(neat, Number):
        return term_of(neat)
    return Term(Fraction(1), ((neat, Fraction(1)),))


def _power_term(base: Node, exponent: Node) -> Term:
    from .tidy import tidy

    value = rational(exponent)
    if base == E and isinstance(exponent, Call) and exponent.function == "ln":
        return term_of(exponent.argument)
    if base == E and value is None:
        logs = term_of(exponent)
        if len(logs.powers) == 1 and isinstance(logs.powers[0][0], Call) and logs.powers[0][0].function == "ln" and logs.powers[0][1] == 1:
            return _power_term(logs.powers[0][0].argument, number(logs.coefficient))
    inner = term_of(base)
    if value is None:
        if inner.coefficient == 1 and len(inner.powers) == 1 and isinstance(inner.powers[0][1], Node) and inner.powers[0][0] == E:
            return Term(Fraction(1), ((E, tidy(Product((inner.powers[0][1], exponent)))),))
        plain = tidy(base)
        return Term(Fraction(1)) if plain == ONE else Term(Fraction(1), ((plain, exponent),))
    if inner.coefficient == 0:
        return Term(Fraction(0)) if value > 0 else Term(Fraction(1), ((Power(Number(Fraction(0)), exponent), Fraction(1)),))
    if value.denominator == 1:
        return inner.raised(value) if not _even_absolute(inner, value) else _squared_absolutes(inner, value)
    return _root_term(inner, value)


def _even_absolute(inner: Term, value: Fraction) -> bool:
    return value % 2 == 0 and any(isinstance(b, Absolute) for b, _ in inner.powers)


def _squared_absolutes(inner: Term, value: Fraction) -> Term:
    """|x|^2 is x^2."""
    bare = tuple((b.argument if isinstance(b, Absolute) else b, e) for b, e in inner.powers)
    return collect(inner.coefficient, bare).raised(value)


def _root_term(inner: Term, value: Fraction) -> Term:
    """A broken power of a term: positive numbers and powers that keep their sign come out, the rest stays under the root."""
    from .tidy import join

    out: list[tuple[Node, Exponent]] = []
    stay: list[tuple[Node, Exponent]] = []
    for base, e in inner.powers:
        single = len(inner.powers) == 1 and inner.coefficient > 0
        if base == E or isinstance(base, Number) or (isinstance(e, Fraction) and e.denominator % 2 == 0 and e > 0):
            out.append((base, _scaled(e, value)))
        elif isinstance(e, Fraction) and ((single and e.numerator % 2 == 1) or (value.denominator % 2 == 1 and e.denominator % 2 == 1)):
            out.append((base, e * value))
        else:
            stay.append((base, e))
    sign = -1 if inner.coefficient < 0 else 1
    if sign < 0 and value.denominator % 2 == 1:
        out.append((Number(Fraction(1)), Fraction(1)))
        outer = Fraction(-1) ** value.numerator
        sign = 1
    else:
        outer = Fraction(1)
    size = abs(inner.coefficient)
    if sign < 0 or not stay:
        pulled = Fraction(1)
        if sign > 0:
            out += [(Number(Fraction(size.numerator)), value), (Number(Fraction(size.denominator)), -value)]
            size = Fraction(1)
    else:
        pulled, size = _perfect(size, value)
    rest = join(Term(sign * size, tuple(stay)))
    if rest != ONE:
        out.append((rest, value))
    return collect(outer * pulled, out)


def _perfect(size: Fraction, value: Fraction) -> tuple[Fraction, Fraction]:
    """The part of a positive number that comes out of a root, and what stays under it (whole where possible)."""
    q = value.denominator
    if size.denominator != 1:
        size, below = size * size.denominator**q, Fraction(size.denominator)
    else:
        below = Fraction(1)
    outside, inside = 1, size.numerator
    if inside < 10**12:
        for k in range(2, 200):
            while inside % k**q == 0:
                inside, outside = inside // k**q, outside * k
    return (Fraction(outside) / below) ** value.numerator, Fraction(inside)
