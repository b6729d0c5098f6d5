"""The exact rung: entries of a program as quotients of polynomials over Q in independent generators, near one base point.

A generator is a name, π, an exponential of a monomial, t = tan(θ/2) of a monomial θ, the logarithm or the positive N-th root
of a prime polynomial, or an arctangent. Signs (of absolute values, under roots) are those at the base point, where the
program has been evaluated without trouble: no divisor is zero there, so an entry whose numerator is zero is zero on the
whole component on which the program is analytic. A relation between generators that is missed costs a proof, never soundness.
(Why these generators: R. H. Risch, Trans. AMS 139 (1969); half angles: DLMF 4.21(iii).)
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import comb, gcd, prod
from time import process_time
from typing import Any

from flint import Ordering, arb, fmpq, fmpq_mpoly_ctx, fmpz

from .balls import Point, ball
from .stops import Budget, Unsure

Element = tuple[Any, Any]
MAX_TERMS, MAX_BITS, MAX_PRIME_BITS, MAX_GENERATORS = 4000, 20000, 160, 96


class Restart(Exception):
    """The field must be built anew: a generator needs a finer unit, or there are too few of them."""


@dataclass(slots=True)
class Generator:
    """`kind`, what it is a function of (`poly`/`bottom`), the unit it counts that in, and its ball at the base point."""

    kind: str
    poly: Any
    bottom: Any
    unit: Fraction
    here: Any


@cache
def ring(size: int) -> tuple[Any, tuple[Any, ...]]:
    """Polynomials in some unknowns; later ones stand higher in the order, so that r^N - q(earlier ones) reduces powers of r."""
    ctx = fmpq_mpoly_ctx.get([f"g{size - i}" for i in range(size)], Ordering.lex)
    return ctx, tuple(reversed(ctx.gens()))


class Elements:
    """The field for one base point: the balls of the names there. `hints` are what earlier attempts learnt."""

    def __init__(self, point: Point, hints: dict[str, Any], deadline: float) -> None:
        self.point, self.hints, self.deadline = dict(point), hints, deadline
        self.ctx, self.symbols = ring(hints.setdefault("size", 4))
        self.generators: list[Generator] = []
        self.relations: list[tuple[int, int, Any]] = []
        self.one: Any = self.ctx.constant(1)
        self.nought: Element = (self.ctx.constant(0), self.one)
        self.unity: Element = (self.one, self.one)
        self.circles: list[tuple[Element, tuple[Element, Element]]] = []
        self.limits: Callable[..., Element] | None = None

    def generator(self, kind: str, poly: Any, bottom: Any, needed: Fraction = Fraction(1)) -> tuple[int, Fraction]:
        """The index of a generator, and the whole number of its units in `needed`; a new one if it is not there yet."""
        unit = Fraction(1)
        if kind in ("exp", "tan", "root"):  # counted in a unit: half an angle, a third of an exponent
            key = f"{kind} {poly} {bottom}"
            unit = self.hints.setdefault(key, abs(needed))
            if (needed / unit).denominator > 1:
                lower = needed.denominator * unit.denominator
                upper = gcd(needed.numerator * unit.denominator, unit.numerator * needed.denominator)
                self.hints[key] = Fraction(upper, lower)
                raise Restart
        for index, g in enumerate(self.generators):
            if g.kind == kind and g.poly == poly and g.bottom == bottom:
                return index, needed / unit
        here = MEASURES[kind](self.measure(poly) / self.measure(bottom), unit) if kind in MEASURES else self.point.get(kind)
        if here is None or not here.is_finite():
            raise Unsure
        if len(self.generators) == len(self.symbols):
            self.hints["size"] *= 2
            if self.hints["size"] > MAX_GENERATORS:
                raise Budget("too many independent functions")
            raise Restart
        self.generators.append(Generator(kind, poly, bottom, unit, here))
        return len(self.generators) - 1, needed / unit

    def symbol(self, index: int) -> Element:
        return self.symbols[index], self.one

    # Arithmetic

    def make(self, top: Any, bottom: Any) -> Element:
        top = self.reduce(top)
        if not bottom.is_one():
            bottom = self.reduce(bottom)
            if not bottom.is_constant():
                common = top.gcd(bottom)
                if not common.is_constant():
                    top, bottom = top // common, bottom // common
            lead = bottom.leading_coefficient()
            top, bottom = top / lead, bottom / lead
        if len(top) + len(bottom) > MAX_TERMS or process_time() > self.deadline:
            raise Budget("the normal form grows too large")
        return top, bottom

    def reduce(self, poly: Any) -> Any:
        if self.relations and not poly.is_constant():
            degrees = poly.degrees()
            for place, order, relation in reversed(self.relations):
                if degrees[place] >= order:
                    poly %= relation
                    degrees = poly.degrees()
        return poly

    def add(self, a: Element, b: Element, sign: int = 1) -> Element:
        if a[1] == b[1]:
            return self.make(a[0] + sign * b[0], a[1])
        return self.make(a[0] * b[1] + sign * b[0] * a[1], a[1] * b[1])

    def mul(self, a: Element, b: Element) -> Element:
        return self.make(a[0] * b[0], a[1] * b[1])

    def div(self, a: Element, b: Element) -> Element:
        if b[0].is_zero():
            raise Unsure
        return self.make(a[0] * b[1], a[1] * b[0])

    def power(self, a: Element, n: int) -> Element:
        if n < 0:
            return self.power(self.div(self.unity, a), -n)
        for poly in a if n > 1 else ():
            terms = min(prod(n * int(d) + 1 for d in poly.degrees()), comb(n + len(poly) - 1, n) if n < 10**4 else 10**9)
            bits = max(int(c.p).bit_length() + int(c.q).bit_length() for c in (*poly.coeffs(), fmpq(1)))
            if terms > MAX_TERMS or n * bits > MAX_BITS:
                raise Budget("a power is too large")
        return self.make(a[0] ** n, a[1] ** n)

    def number(self, value: Fraction | int) -> Element:
        return self.ctx.constant(fmpq(value.numerator, value.denominator)), self.one

    def scale(self, a: Element, value: Fraction | int) -> Element:
        return a[0] * fmpq(value.numerator, value.denominator), a[1]

    def measure(self, poly: Any) -> Any:
        """The ball of a polynomial at the base point."""
        if poly.is_constant():
            return arb(poly.leading_coefficient()) if poly else arb(0)
        total = arb(0)
        for exponents, coefficient in poly.terms():
            term = arb(coefficient)
            for place, n in enumerate(exponents):
                if n:
                    term *= self.generators[len(self.symbols) - 1 - place].here ** int(n)
            total += term
        return total

    def sign(self, a: Any) -> int:
        """The sign of a polynomial or an element that is not zero."""
        here = self.value(a) if isinstance(a, tuple) else self.measure(a)
        if not here != 0:
            raise Unsure
        return 1 if here > 0 else -1

    def value(self, a: Element) -> Any:
        return self.measure(a[0]) / self.measure(a[1])

    def primes(self, a: Element) -> list[tuple[Any, int]]:
        """The prime polynomials (and prime numbers) of an element and their exponents, without its sign."""
        found: list[tuple[Any, int]] = []
        for poly, way in ((a[0], 1), (a[1], -1)):
            unit, factors = poly.factor()
            found += [(p, way * int(e)) for p, e in factors]
            for number, sign in ((abs(unit.p), way), (unit.q, -way)):
                if int(number).bit_length() > MAX_PRIME_BITS:
                    raise Budget("an integer is too large to factor")
                found += [(self.ctx.constant(int(p)), sign * int(e)) for p, e in fmpz(number).factor() if p != 1]
        return found

    def split(self, a: Element) -> list[tuple[Fraction, Any, Any]]:
        """An element as Σ c·m/d with rational c: monomials m over one, and a proper fraction m/d."""
        whole, rest = (a[0], self.nought[0]) if a[1].is_one() else divmod(a[0], a[1])
        parts = [(Fraction(int(c.p), int(c.q)), self.ctx.from_dict({m: 1}), self.one) for m, c in whole.terms()]
        if rest:
            lead = rest.leading_coefficient()
            parts.append((Fraction(int(lead.p), int(lead.q)), rest / lead, a[1]))
        return parts

    def bare(self, poly: Any, bottom: Any, kind: str) -> Generator | None:
        """The generator that a monomial is, if it is one of this kind."""
        if bottom.is_one() and poly.total_degree() == 1 and len(poly) == 1:
            g = self.generators[len(self.symbols) - 1 - next(i for i, n in enumerate(poly.degrees()) if n)]
            return g if g.kind == kind else None
        return None


#: The value of a generator from the ball of its argument and its unit; of a root and an angle, of their unit parts.
MEASURES: dict[str, Any] = {
    "exp": lambda u, unit: (u * ball(unit)).exp(),
    "tan": lambda u, unit: (u * ball(unit) / 2).tan(),
    "ln": lambda u, unit: abs(u).log(),
    "root": lambda u, unit: abs(u).root(unit.denominator),
    "arctan": lambda u, unit: u.atan(),
    "pi": lambda u, unit: arb.pi(),
}
