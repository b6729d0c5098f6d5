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
from time import monotonic
from typing import Any

from flint import Ordering, arb, fmpq, fmpq_mpoly_ctx, fmpz

from .program import Budget, NotSupported, Point, Program, Unsure, ball

Element = tuple[Any, Any]
MAX_TERMS, MAX_BITS, MAX_PRIME_BITS, MAX_GENERATORS, MAX_TURNS = 4000, 20000, 160, 96, 64
HALF = Fraction(1, 2)


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


class Field:
    """The field for one base point: the balls of the names there. `hints` are what earlier attempts learnt."""

    def __init__(self, point: Point, hints: dict[str, Any], deadline: float) -> None:
        self.point, self.hints, self.deadline = dict(point), hints, deadline
        self.ctx, self.symbols = ring(hints.setdefault("size", 12))
        self.generators: list[Generator] = []
        self.relations: list[tuple[int, int, Any]] = []
        self.one: Any = self.ctx.constant(1)
        self.nought: Element = (self.ctx.constant(0), self.one)
        self.unity: Element = (self.one, self.one)
        self.limits: Callable[..., Element] | None = None

    def generator(self, kind: str, poly: Any, bottom: Any, needed: Fraction = Fraction(1)) -> tuple[int, Fraction]:
        """The index of a generator, and the whole number of its units in `needed`; a new one if it is not there yet."""
        key = f"{kind} {poly} {bottom}"
        unit: Fraction = self.hints.setdefault(key, abs(needed))
        if (needed / unit).denominator > 1:
            lower = needed.denominator * unit.denominator
            upper = gcd(needed.numerator * unit.denominator, unit.numerator * needed.denominator)
            self.hints[key] = Fraction(upper, lower)
            raise Restart
        for index, g in enumerate(self.generators):
            if g.kind == kind and g.poly == poly and g.bottom == bottom:
                return index, needed / unit
        argument = self.measure(poly) / self.measure(bottom)
        here = MEASURES[kind](argument, unit) if kind in MEASURES else self.point[kind]
        if not here.is_finite():
            raise Unsure(-1)
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
        top, bottom = self.reduce(top), self.reduce(bottom)
        if top.is_zero():
            return self.nought
        if not bottom.is_constant():
            common = top.gcd(bottom)
            if not common.is_constant():
                top, bottom = top // common, bottom // common
        if len(top) + len(bottom) > MAX_TERMS or monotonic() > self.deadline:
            raise Budget("the normal form grows too large")
        if not bottom.is_one():
            lead = bottom.leading_coefficient()
            top, bottom = top / lead, bottom / lead
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
            raise Unsure(-1)
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
        value = Fraction(value)
        return self.ctx.constant(fmpq(value.numerator, value.denominator)), self.one

    def scale(self, a: Element, value: Fraction | int) -> Element:
        return a[0] * fmpq(value.numerator, value.denominator), a[1]

    def measure(self, poly: Any) -> Any:
        """The ball of a polynomial at the base point."""
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
            raise Unsure(-1)
        return 1 if here > 0 else -1

    def value(self, a: Element) -> Any:
        return self.measure(a[0]) / self.measure(a[1])

    # Splitting into primes and into monomials

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

    # Functions

    def log(self, a: Element) -> Element:
        """ln|a|, through the primes of a."""
        total = self.nought
        for p, e in self.primes(a):
            total = self.add(total, self.scale(self.log_prime(p), e))
        return total

    def log_prime(self, p: Any) -> Element:
        g = self.bare(p, self.one, "root")
        if g:
            return self.scale(self.log_prime(g.poly), g.unit)
        g = self.bare(p, self.one, "exp")
        if g:
            return self.scale((g.poly, g.bottom), g.unit)
        for place, order, _ in self.relations:
            if order == 2 and p.degrees()[place] == 1:
                # a + br and a - br have a norm without r: the logarithm of the later one is written with the earlier one's.
                r = self.ctx.gens()[place]
                conjugate, norm = p.compose(*(-s if s == r else s for s in self.ctx.gens())), None
                conjugate = conjugate / conjugate.leading_coefficient()
                if any(g.kind == "ln" and g.poly == conjugate for g in self.generators):
                    norm = self.make(p * conjugate, self.one)
                    return self.add(self.log(norm), self.log_prime(conjugate), -1)
        return self.symbol(self.generator("ln", p, self.one)[0])

    def exp(self, a: Element) -> Element:
        result = self.unity
        for c, m, d in self.split(a):
            g = self.bare(m, d, "ln")
            if g:
                result = self.mul(result, self.prime_power(g.poly, c))
            else:
                index, n = self.generator("exp", m, d, c)
                result = self.mul(result, self.power(self.symbol(index), int(n)))
        return result

    def prime_power(self, p: Any, c: Fraction) -> Element:
        """|p|^c for a prime polynomial or prime number."""
        if c.denominator == 1:
            result = self.power((p, self.one), int(c)) if c else self.unity
            return self.scale(result, self.sign(p)) if c % 2 else result
        g = self.bare(p, self.one, "root")
        if g:
            return self.prime_power(g.poly, c * g.unit)
        if self.bare(p, self.one, "exp"):
            return self.exp(self.scale(self.log_prime(p), c))
        whole, before = c.numerator // c.denominator, len(self.generators)
        index, n = self.generator("root", p, self.one, Fraction(1, c.denominator))
        if index == before:
            order = self.generators[index].unit.denominator
            self.relations.append((len(self.symbols) - 1 - index, order, self.symbols[index] ** order - p * self.sign(p)))
        # |p|^c with the root above the line: 1/√2 is √2/2.
        return self.mul(self.prime_power(p, Fraction(whole)), self.power(self.symbol(index), int(n * (c - whole) * c.denominator)))

    def root(self, a: Element, exponent: Fraction, positive: bool = True) -> Element:
        result = self.number(1 if positive or exponent.numerator % 2 == 0 else -1)
        for p, e in self.primes(a):
            result = self.mul(result, self.prime_power(p, e * exponent))
        return result

    def times(self, z: tuple[Element, Element], w: tuple[Element, Element]) -> tuple[Element, Element]:
        """The product of two pairs as complex numbers."""
        real = self.add(self.mul(z[0], w[0]), self.mul(z[1], w[1]), -1)
        return real, self.add(self.mul(z[0], w[1]), self.mul(z[1], w[0]))

    def turned(self, v: Element, n: int) -> tuple[Element, Element]:
        """(1 + iv)^n for n ≥ 0 and (1 - iv)^-n else: its argument is n·arctan v."""
        if abs(n) > MAX_TURNS:
            raise Budget("too many multiples of an angle")
        result, step = (self.unity, self.nought), (self.unity, self.scale(v, 1 if n > 0 else -1))
        for _ in range(abs(n)):
            result = self.times(result, step)
        return result

    def cos_sin(self, a: Element) -> tuple[Element, Element]:
        """Cosine and sine, by the addition formulas over the monomials of the angle."""
        result = self.unity, self.nought
        for k, m, d in self.split(a):
            if self.bare(m, d, "pi"):
                result = self.times(result, self.angle(k))
                continue
            g = self.bare(m, d, "arctan")
            if g and k.denominator == 1:
                # Below the cosine and sine of k·arctan v stands √(1+v²)^k.
                t, n = (g.poly, g.bottom), int(k)
                shrink = self.power(self.root(self.add(self.unity, self.mul(t, t)), HALF), abs(n))
            else:
                index, units = self.generator("tan", m, d, k)
                t, n = self.symbol(index), 2 * int(units)
                shrink = self.power(self.add(self.unity, self.mul(t, t)), abs(n) // 2)
            real, imaginary = self.turned(t, n)
            result = self.times(result, (self.div(real, shrink), self.div(imaginary, shrink)))
        return result

    def angle(self, k: Fraction) -> tuple[Element, Element]:
        """Cosine and sine of kπ, by halves and multiples of π/1, π/3 and π/5."""
        k %= 2
        if k >= HALF:  # a quarter turn more
            c, s = self.angle(k - HALF)
            return self.scale(s, -1), c
        if k == 0:
            return self.unity, self.nought
        if k.denominator // (k.denominator & -k.denominator) > 5 or k.denominator > 32:
            raise NotSupported(f"the angle {k}π")
        if k.numerator > 1:
            result = unit = self.angle(Fraction(1, k.denominator))
            for _ in range(k.numerator - 1):
                result = self.times(result, unit)
            return result
        if k.denominator == 3:
            c = self.number(HALF)
        elif k.denominator == 5:
            c = self.scale(self.add(self.unity, self.root(self.number(5), HALF)), Fraction(1, 4))
        else:
            c = self.root(self.scale(self.add(self.unity, self.angle(2 * k)[0]), HALF), HALF)
        return c, self.root(self.add(self.unity, self.mul(c, c), -1), HALF)

    def constant(self, kind: str) -> Element:
        return self.symbol(self.generator(kind, self.one, self.one)[0])

    def arctan(self, v: Element) -> Element:
        if v[0].is_zero():
            return v
        if v[0].leading_coefficient() < 0:
            return self.scale(self.arctan(self.scale(v, -1)), -1)
        here = self.value(v).atan()
        exact = self.turns(v, 1, v, 0, here)
        if exact is not None:
            return exact
        for index, old in enumerate(self.generators):
            if old.kind == "arctan" and (old.poly, old.bottom) != v:
                for m, n in ((1, 1), (1, -1), (1, 2), (1, -2), (2, 1), (2, -1)):
                    # Is m·arctan v = n·arctan(old) + a known angle?
                    exact = self.turns(v, m, (old.poly, old.bottom), -n, here * m - old.here * n)
                    if exact is not None:
                        return self.scale(self.add(self.scale(self.symbol(index), n), exact), Fraction(1, m))
        return self.symbol(self.generator("arctan", *v)[0])

    def turns(self, v: Element, m: int, w: Element, n: int, here: Any) -> Element | None:
        """m·arctan v + n·arctan w, whose ball is `here`, as a rational multiple of π if it is one of a small denominator."""
        share = simple(here / arb.pi())
        if share is None:
            return None
        z, (c, s) = self.times(self.turned(v, m), self.turned(w, n)), self.angle(share)
        off = self.add(self.mul(z[0], s), self.mul(z[1], c), -1)
        return self.scale(self.constant("pi"), share) if off[0].is_zero() else None

    # Entries of a program

    def element(self, program: Program, goal: int) -> Element:
        """The normal form of an entry. Raises `Restart`, `Unsure`, `Budget` or `NotSupported`."""
        known: dict[int, Element] = {}
        for entry in program.order(goal):
            op = program.ops[entry]
            known[entry] = self.apply(op, *(known[part] for part in program.parts(entry)))
        return known[goal]

    def apply(self, op: tuple[Any, ...], a: Element = (0, 1), b: Element = (0, 1)) -> Element:
        """An operation on elements."""
        match op[0]:
            case "num":
                return self.ctx.constant(op[1]), self.one
            case "pi" | "var":
                return self.constant(op[0] if op[0] == "pi" else op[1])
            case "add" | "mul" | "div":
                return getattr(self, op[0])(a, b)  # type: ignore[no-any-return]
            case "pow":
                return self.power(a, op[2])
            case "root" | "abs" | "sgn" if a[0]:
                sign = self.sign(a)
                if op[0] == "root":
                    return self.root(a, Fraction(op[2], op[3]), sign > 0)
                return self.number(sign) if op[0] == "sgn" else self.scale(a, sign)
            case "root" | "abs" | "sgn":
                return a
            case "sin" | "cos":
                return self.cos_sin(a)[op[0] == "sin"]
            case "ln" if not a[0]:
                raise Unsure(-1)
            case "exp" | "ln" | "arctan":
                return {"exp": self.exp, "ln": self.log, "arctan": self.arctan}[op[0]](a)
            case "limit" if self.limits:
                return self.limits(self, *op[1:])
        raise NotSupported(op[0])


#: The value of a generator from the ball of its argument and its unit; of a root and an angle, of their unit parts.
MEASURES: dict[str, Any] = {
    "exp": lambda u, unit: (u * ball(unit)).exp(),
    "tan": lambda u, unit: (u * ball(unit) / 2).tan(),
    "ln": lambda u, unit: abs(u).log(),
    "root": lambda u, unit: abs(u).root(unit.denominator),
    "arctan": lambda u, unit: u.atan(),
    "pi": lambda u, unit: arb.pi(),
}


def simple(here: Any) -> Fraction | None:
    """The rational number with a denominator of at most 24 that a narrow ball holds, if there is one."""
    if not here.is_finite() or here.rad() > 1e-12 or abs(here) > 1000:
        return None
    guess = Fraction(float(here.mid())).limit_denominator(24)
    return guess if here.contains(fmpq(guess.numerator, guess.denominator)) else None


def vanishes(program: Program, goal: int, point: Point, hints: dict[str, Any], deadline: float) -> bool:
    """Whether the normal form of an entry at a point is zero: then the entry is zero on the whole component around it.

    The program must have been evaluated at the point, strictly and without trouble.
    """
    for _ in range(12):
        try:
            return bool(Field(point, hints, deadline).element(program, goal)[0].is_zero())
        except Restart:
            continue
        except (Unsure, Budget, NotSupported):
            return False
    return False
