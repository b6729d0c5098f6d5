"""The exact rung: entries of a program as quotients of polynomials over Q in independent generators, near one base point.

A generator is a variable, π, an exponential of a monomial, t = tan(θ/2) of a monomial θ, the logarithm or the positive N-th
root of a prime polynomial, or an arctangent. Signs (of absolute values, under roots) are those at the base point, where the
program has been evaluated without trouble: so no divisor is zero there, and an entry whose numerator is zero is zero on the
whole component on which the program is analytic. A missed relation between generators costs a proof, never soundness.
(Structure theorem behind the choice of generators: R. H. Risch, Trans. AMS 139 (1969); half-angle forms: DLMF 4.21(iii).)
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import comb, gcd, prod
from time import monotonic
from typing import Any

from flint import Ordering, arb, fmpq, fmpq_mpoly_ctx, fmpz

from .derivative import NotSupported
from .program import Budget, Program, Unsure, ball

Element = tuple[Any, Any]
MAX_TERMS, MAX_BITS, MAX_PRIME_BITS = 4000, 20000, 160


class Restart(Exception):
    """The field must be built anew: a generator needs a finer unit, or there are too few of them."""


@dataclass(slots=True)
class Generator:
    """`kind` and what it is made of; its ball at the base point and its derivative."""

    kind: str
    poly: Any
    bottom: Any
    ball: Any
    slope: Element


class Field:
    """The field for one base point. `balls` are the values of the program there, `hints` what earlier attempts learnt."""

    def __init__(self, program: Program, variable: str, balls: list[Any], hints: dict[str, Any], deadline: float) -> None:
        self.program, self.variable, self.balls, self.hints, self.deadline = program, variable, balls, hints, deadline
        size = hints.setdefault("size", 12)
        # Later generators stand higher in the order, so that r^N - q(earlier ones) reduces powers of r.
        self.ctx = fmpq_mpoly_ctx.get([f"g{size - i}" for i in range(size)], Ordering.lex)
        self.gens = self.ctx.gens()
        self.generators: list[Generator] = []
        self.relations: list[tuple[int, int, Any]] = []
        self.one: Any = self.ctx.constant(1)
        self.zero: Any = self.ctx.constant(0)
        self.known: dict[int, Element] = {}

    # Generators

    def place(self, index: int) -> int:
        return len(self.gens) - 1 - index

    def symbol(self, index: int) -> Any:
        return self.gens[self.place(index)]

    def find(self, kind: str, poly: Any, bottom: Any) -> int | None:
        for index, g in enumerate(self.generators):
            if g.kind == kind and g.poly == poly and g.bottom == bottom:
                return index
        return None

    def grow(self, kind: str, poly: Any, bottom: Any, here: Any, slope: Element | None = None) -> int:
        if len(self.generators) == len(self.gens):
            self.hints["size"] *= 2
            if self.hints["size"] > 96:
                raise Budget("too many independent functions")
            raise Restart
        if not here.is_finite():
            raise Unsure(-1)
        self.generators.append(Generator(kind, poly, bottom, here, slope or (self.zero, self.one)))
        return len(self.generators) - 1

    def unit(self, kind: str, poly: Any, bottom: Any, needed: Fraction) -> Fraction:
        """The largest part of a generator's argument of which every multiple seen so far is a whole one."""
        key = f"{kind} {poly} {bottom}"
        have = self.hints.setdefault(key, abs(needed))
        if (needed / have).denominator > 1:
            self.hints[key] = Fraction(gcd(have.numerator * needed.denominator, needed.numerator * have.denominator), have.denominator * needed.denominator)
            raise Restart
        return have

    # Arithmetic

    def make(self, top: Any, bottom: Any) -> Element:
        top, bottom = self.reduce(top), self.reduce(bottom)
        if top.is_zero():
            return self.zero, self.one
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

    def add(self, a: Element, b: Element) -> Element:
        if a[1] == b[1]:
            return self.make(a[0] + b[0], a[1])
        return self.make(a[0] * b[1] + b[0] * a[1], a[1] * b[1])

    def mul(self, a: Element, b: Element) -> Element:
        return self.make(a[0] * b[0], a[1] * b[1])

    def div(self, a: Element, b: Element) -> Element:
        if b[0].is_zero():
            raise Unsure(-1)
        return self.make(a[0] * b[1], a[1] * b[0])

    def power(self, a: Element, n: int) -> Element:
        if n < 0:
            return self.power(self.div((self.one, self.one), a), -n)
        for poly in a if n > 1 else ():
            terms = min(prod(n * int(d) + 1 for d in poly.degrees()), comb(n + len(poly) - 1, n) if n < 10**4 else 10**9)
            if terms > MAX_TERMS or n * _bits(poly) > MAX_BITS:
                raise Budget("a power is too large")
        return self.make(a[0] ** n, a[1] ** n)

    def constant(self, value: Any) -> Element:
        value = Fraction(value)
        return self.ctx.constant(fmpq(value.numerator, value.denominator)), self.one

    def scale(self, a: Element, value: Fraction) -> Element:
        return a[0] * fmpq(value.numerator, value.denominator), a[1]

    # Balls and derivatives of elements

    def measure(self, poly: Any) -> Any:
        total = arb(0)
        for exponents, coefficient in poly.terms():
            term = arb(coefficient)
            for place, n in enumerate(exponents):
                if n:
                    term *= self.generators[self.place(place)].ball ** int(n)
            total += term
        return total

    def value(self, a: Element) -> Any:
        return self.measure(a[0]) / self.measure(a[1])

    def sign(self, poly: Any) -> int:
        ball = self.measure(poly)
        if not ball != 0:
            raise Unsure(-1)
        return 1 if ball > 0 else -1

    def slope(self, a: Element) -> Element:
        """The derivative by the variable, by the chain rule over the generators."""
        top, bottom = self._slope(a[0]), self._slope(a[1])
        return self.div(self.add(self.mul(top, (a[1], self.one)), self.scale(self.mul(bottom, (a[0], self.one)), Fraction(-1))), (a[1] ** 2, self.one))

    def _slope(self, poly: Any) -> Element:
        total: Element = (self.zero, self.one)
        for place, degree in enumerate(poly.degrees()):
            if degree:
                total = self.add(total, self.mul((poly.derivative(place), self.one), self.generators[self.place(place)].slope))
        return total

    # Splitting into primes and into monomials

    def primes(self, a: Element) -> list[tuple[Any, int]]:
        """The prime polynomials (and prime numbers) of an element and their exponents, without its sign."""
        found: list[tuple[Any, int]] = []
        for poly, way in ((a[0], 1), (a[1], -1)):
            unit, factors = poly.factor()
            found += [(p, way * int(e)) for p, e in factors]
            for number, sign in ((unit.p, way), (unit.q, -way)):
                if abs(number) != 1:
                    if int(number).bit_length() > MAX_PRIME_BITS:
                        raise Budget("an integer is too large to factor")
                    found += [(self.ctx.constant(int(p)), sign * int(e)) for p, e in fmpz(abs(number)).factor()]
        return found

    def split(self, a: Element) -> list[tuple[Fraction, Any, Any]]:
        """An element as Σ c·m/d with rational c: monomials m over one, and a proper fraction m/d."""
        whole, rest = (a[0], self.zero) if a[1].is_one() else divmod(a[0], a[1])
        parts = [(Fraction(int(c.p), int(c.q)), self.ctx.from_dict({m: 1}), self.one) for m, c in whole.terms()]
        if rest:
            lead = rest.leading_coefficient()
            parts.append((Fraction(int(lead.p), int(lead.q)), rest / lead, a[1]))
        return parts

    def bare(self, poly: Any, bottom: Any, kind: str) -> int | None:
        """The index of the generator that a monomial is, if it is one of this kind."""
        if bottom.is_one() and poly.total_degree() == 1:
            index = self.place(next(i for i, n in enumerate(poly.degrees()) if n))
            return index if self.generators[index].kind == kind else None
        return None

    # Functions

    def pi(self) -> Element:
        index = self.find("pi", self.one, self.one)
        return self.symbol(self.grow("pi", self.one, self.one, arb.pi()) if index is None else index), self.one

    def name(self, name: str, ball: Any) -> Element:
        index = next((i for i, g in enumerate(self.generators) if g.kind == "name " + name), None)
        if index is None:
            index = self.grow("name " + name, self.one, self.one, ball, (self.one if name == self.variable else self.zero, self.one))
        return self.symbol(index), self.one

    def log(self, a: Element) -> Element:
        """ln|a|, through the primes of a."""
        total: Element = (self.zero, self.one)
        for p, e in self.primes(a):
            total = self.add(total, self.scale(self.log_prime(p), Fraction(e)))
        return total

    def log_prime(self, p: Any) -> Element:
        root, power = self.bare(p, self.one, "root"), self.bare(p, self.one, "exp")
        if root is not None:
            g = self.generators[root]
            return self.scale(self.log_prime(g.poly), self.hints[f"root {g.poly} {self.one}"])
        if power is not None:
            g = self.generators[power]
            return self.scale((g.poly, g.bottom), self.hints[f"exp {g.poly} {g.bottom}"])
        index = self.find("ln", p, self.one)
        if index is not None:
            return self.symbol(index), self.one
        slope = self.div(self._slope(p), (p, self.one))
        ball = abs(self.measure(p)).log()
        return self.related("ln", p, self.one, ball, slope)

    def related(self, kind: str, poly: Any, bottom: Any, ball: Any, slope: Element) -> Element:
        """A new logarithm or arctangent: as a rational multiple of an older one and a constant, if it is one, else a generator."""
        for index, old in enumerate(self.generators):
            if old.kind != kind or (kind == "ln" and not self.entangled(poly, old.poly)):
                continue
            ratio = self.ratio(slope, old.slope) if not slope[0].is_zero() else None if old.slope[0] else simple(ball / old.ball)
            if ratio is None:
                continue
            rest = ball - old.ball * fmpq(ratio.numerator, ratio.denominator)
            constant = self.exact_constant(kind, (poly, bottom), (old.poly, old.bottom), ratio, rest)
            if constant is None and slope[0]:
                constant = self.symbol(self.grow("constant", poly, bottom, rest)), self.one
            if constant is not None:
                return self.add(self.scale((self.symbol(index), self.one), ratio), constant)
        return self.symbol(self.grow(kind, poly, bottom, ball, slope)), self.one

    def entangled(self, p: Any, q: Any) -> bool:
        """Whether roots occur in both: only then can two different primes have dependent logarithms."""
        return all(any(n and self.generators[self.place(i)].kind == "root" for i, n in enumerate(r.degrees())) for r in (p, q))

    def ratio(self, a: Element, b: Element) -> Fraction | None:
        if b[0].is_zero():
            return None
        top, bottom = self.reduce(a[0] * b[1]), self.reduce(a[1] * b[0])
        ratio = top.leading_coefficient() / bottom.leading_coefficient()
        return Fraction(int(ratio.p), int(ratio.q)) if (top - bottom * ratio).is_zero() else None

    def exact_constant(self, kind: str, new: Element, old: Element, ratio: Fraction, ball: Any) -> Element | None:
        """The constant new - ratio·old, known up to a ball: the function that undoes it must give an exact number."""
        m, n = ratio.denominator, -ratio.numerator
        if max(m, abs(n)) > 12:
            return None
        if kind == "ln":
            product = self.mul(self.power(new, m), self.power(old, n))
            if product[0].is_constant() and product[1].is_constant():
                return self.scale(self.log(product), Fraction(1, m))
            return None
        turns = simple(ball * m / arb.pi())
        if turns is None:
            return None
        re, im = self.turned(new, m)
        re2, im2 = self.turned(old, n)
        want_c, want_s = self.angle(turns)
        re, im = self.minus(self.mul(re, re2), self.mul(im, im2)), self.add(self.mul(re, im2), self.mul(im, re2))
        if not self.minus(self.mul(re, want_s), self.mul(im, want_c))[0].is_zero():
            return None
        return self.scale(self.pi(), turns / m)

    def minus(self, a: Element, b: Element) -> Element:
        return self.add(a, self.scale(b, Fraction(-1)))

    def turned(self, v: Element, n: int) -> tuple[Element, Element]:
        """(1 + iv)^n, whose argument is n·arctan v, as real and imaginary part."""
        re, im = self.constant(1), self.constant(0)
        step = v if n >= 0 else self.scale(v, Fraction(-1))
        for _ in range(abs(n)):
            re, im = self.minus(re, self.mul(im, step)), self.add(im, self.mul(re, step))
        return re, im

    def exp(self, a: Element) -> Element:
        result = self.constant(1)
        for c, m, d in self.split(a):
            log = self.bare(m, d, "ln")
            if log is not None:
                result = self.mul(result, self.prime_power(self.generators[log].poly, c))
                continue
            unit = self.unit("exp", m, d, c)
            index = self.find("exp", m, d)
            if index is None:
                slope = self.scale(self.slope((m, d)), unit)
                index = self.grow("exp", m, d, (self.value((m, d)) * ball(unit)).exp())
                self.generators[index].slope = self.mul(slope, (self.symbol(index), self.one))
            result = self.mul(result, self.power((self.symbol(index), self.one), int(c / unit)))
        return result

    def prime_power(self, p: Any, c: Fraction) -> Element:
        """|p|^c for a prime polynomial or prime number."""
        if c.denominator == 1:
            result = self.power((p, self.one), int(c))
            return self.scale(result, Fraction(-1)) if c % 2 and self.sign(p) < 0 else result
        for kind in ("exp", "root"):
            index = self.bare(p, self.one, kind)
            if index is not None:
                return self.exp(self.scale(self.log_prime(p), c)) if kind == "exp" else self.prime_power(
                    self.generators[index].poly, c * self.hints[f"root {self.generators[index].poly} {self.one}"]
                )  # fmt: skip
        order = self.unit("root", p, self.one, Fraction(1, c.denominator)).denominator
        index = self.find("root", p, self.one)
        if index is None:
            ball = abs(self.measure(p)).root(order)
            slope = self.scale(self.div(self._slope(p), (p, self.one)), Fraction(1, order))
            index = self.grow("root", p, self.one, ball)
            self.relations.append((self.place(index), order, self.symbol(index) ** order - p * self.sign(p)))
            self.generators[index].slope = self.mul(slope, (self.symbol(index), self.one))
        return self.power((self.symbol(index), self.one), int(c * order))

    def root(self, a: Element, exponent: Fraction, positive: bool) -> Element:
        result = self.constant(1 if positive or exponent.numerator % 2 == 0 else -1)
        for p, e in self.primes(a):
            result = self.mul(result, self.prime_power(p, e * exponent))
        return result

    def cos_sin(self, a: Element) -> tuple[Element, Element]:
        """Cosine and sine, by the addition formulas over the monomials of the angle."""
        c, s = self.constant(1), self.constant(0)
        for k, m, d in self.split(a):
            c2, s2 = self.part_cos_sin(k, m, d)
            c, s = self.minus(self.mul(c, c2), self.mul(s, s2)), self.add(self.mul(c, s2), self.mul(s, c2))
        return c, s

    def part_cos_sin(self, k: Fraction, m: Any, d: Any) -> tuple[Element, Element]:
        if self.bare(m, d, "pi") is not None:
            return self.angle(k)
        tangent = self.bare(m, d, "arctan")
        if tangent is not None:
            g = self.generators[tangent]
            v: Element = (g.poly, g.bottom)
            length = self.root(self.add(self.constant(1), self.mul(v, v)), Fraction(1, 2), True)
            if k.denominator == 2:
                v, k = self.div(v, self.add(self.constant(1), length)), 2 * k
                length = self.root(self.add(self.constant(1), self.mul(v, v)), Fraction(1, 2), True)
            if k.denominator == 1 and abs(k) <= 64:
                re, im = self.turned(v, int(k))
                shrink = self.power(length, abs(int(k)))
                return self.div(re, shrink), self.div(im, shrink)
        n = k / self.unit("tan", m, d, k)
        t = self.half_tangent(m, d)
        if abs(n) > 64:
            raise Budget("too many multiples of an angle")
        re, im = self.turned(t, 2 * int(n))
        whole = self.power(self.add(self.constant(1), self.mul(t, t)), abs(int(n)))
        return self.div(re, whole), self.div(im, whole)

    def half_tangent(self, m: Any, d: Any) -> Element:
        index = self.find("tan", m, d)
        if index is None:
            half = self.hints[f"tan {m} {d}"] / 2
            slope = self.scale(self.slope((m, d)), half)
            index = self.grow("tan", m, d, (self.value((m, d)) * ball(half)).tan())
            t = self.symbol(index)
            self.generators[index].slope = self.mul(slope, (t**2 + 1, self.one))
        return self.symbol(index), self.one

    def tangent(self, a: Element) -> Element:
        """tan of one monomial by half-angle units where they serve; otherwise sine over cosine."""
        parts = self.split(a)
        if len(parts) == 1 and self.bare(*parts[0][1:], "pi") is None and self.bare(*parts[0][1:], "arctan") is None:
            k, m, d = parts[0]
            n = 2 * k / self.unit("tan", m, d, 2 * k)
            if abs(n) <= 64:
                re, im = self.turned(self.half_tangent(m, d), int(n))
                return self.div(im, re)
        c, s = self.cos_sin(a)
        return self.div(s, c)

    def angle(self, k: Fraction) -> tuple[Element, Element]:
        """Cosine and sine of kπ: exact for denominators made of 2, 3 and 5 (one of each odd one); else through a generator."""
        k %= 2
        if k >= 1:
            c, s = self.angle(k - 1)
            return self.scale(c, Fraction(-1)), self.scale(s, Fraction(-1))
        if k.denominator <= 2:
            return (self.constant(1), self.constant(0)) if k == 0 else (self.constant(0), self.constant(1))
        half, two = Fraction(1, 2), Fraction(2)
        if k == Fraction(1, 3):
            return self.constant(half), self.scale(self.root(self.constant(3), half, True), half)
        if k == Fraction(1, 5):
            c = self.scale(self.add(self.constant(1), self.root(self.constant(5), half, True)), Fraction(1, 4))
            return c, self.root(self.minus(self.constant(1), self.mul(c, c)), half, True)
        if k in (Fraction(1, 4), Fraction(1, 6), Fraction(1, 8), Fraction(1, 10), Fraction(1, 12), Fraction(1, 16), Fraction(1, 24)):
            c = self.angle(2 * k)[0]
            return tuple(  # type: ignore[return-value]
                self.root(self.scale(self.add(self.constant(1), self.scale(c, Fraction(sign))), half), half, True) for sign in (1, -1)
            )
        unit = Fraction(1, k.denominator)
        if k.denominator in (3, 4, 5, 6, 8, 10, 12, 16, 24):
            c1, s1 = self.angle(unit)
            c, s = c1, s1
            for _ in range(k.numerator - 1):
                c, s = self.minus(self.mul(c, c1), self.mul(s, s1)), self.add(self.mul(c, s1), self.mul(s, c1))
            return c, s
        pi, one = self.pi()
        n = int(k / self.unit("tan", pi, one, k))
        t = self.half_tangent(pi, one)
        re, im = self.turned(t, 2 * n)
        whole = self.power(self.add(self.constant(1), self.mul(t, t)), n)
        return self.div(re, whole), self.div(im, whole)

    def arctan(self, v: Element) -> Element:
        if v[0].is_zero():
            return v
        if v[0].leading_coefficient() < 0:
            return self.scale(self.arctan(self.scale(v, Fraction(-1))), Fraction(-1))
        index = self.find("arctan", *v)
        if index is not None:
            return self.symbol(index), self.one
        ball = self.value(v).atan()
        slope = self.div(self.slope(v), self.add(self.constant(1), self.mul(v, v)))
        if slope[0].is_zero():
            exact = self.exact_constant("arctan", v, self.constant(0), Fraction(0), ball)
            if exact is not None:
                return exact
        return self.related("arctan", *v, ball, slope)

    def arcsin(self, u: Element) -> Element:
        inside = self.minus(self.constant(1), self.mul(u, u))
        if inside[0].is_zero():
            return self.scale(self.pi(), Fraction(1 if self.value(u) > 0 else -1, 2))
        return self.arctan(self.div(u, self.root(inside, Fraction(1, 2), True)))

    # Entries of the program

    def element(self, goal: int) -> Element:
        """The normal form of an entry. Raises `Restart`, `Unsure`, `Budget` or `NotSupported`."""
        for entry in self.program.order(goal):
            if entry not in self.known:
                self.known[entry] = self._element(entry, self.program.ops[entry])
        return self.known[goal]

    def _element(self, entry: int, op: tuple[Any, ...]) -> Element:
        kind = op[0]
        if kind == "num":
            return self.constant(op[1])
        if kind == "var":
            return self.name(op[1], self.balls[entry])
        if kind == "pi":
            return self.pi()
        if kind == "integral":
            raise NotSupported("integral")
        a = self.known[op[1]]
        if kind in ("add", "mul", "div"):
            method: Callable[[Element, Element], Element] = getattr(self, kind)
            return method(a, self.known[op[2]])
        if kind == "pow":
            return self.power(a, op[2])
        if kind == "root":
            return self._root(op, a)
        if kind in ("abs", "sgn"):
            positive = self.balls[op[1]] > 0
            return self.constant(1 if positive else -1) if kind == "sgn" else a if positive else self.scale(a, Fraction(-1))
        if kind == "intpow":
            return self._integer_power(op, a)
        if kind in ("sin", "cos"):
            return self.cos_sin(a)[kind == "sin"]
        functions = {"exp": self.exp, "ln": self.log, "tan": self.tangent, "arctan": self.arctan, "arcsin": self.arcsin}
        return functions[kind](a)

    def _root(self, op: tuple[Any, ...], a: Element) -> Element:
        if a[0].is_zero():
            return a
        return self.root(a, Fraction(op[2], op[3]), self.balls[op[1]] > 0)

    def _integer_power(self, op: tuple[Any, ...], a: Element) -> Element:
        size = self.exp(self.mul(self.known[op[2]], self.log(a)))
        if self.balls[op[1]] > 0:
            return size
        raise NotSupported("a symbolic power of a negative base")


def _bits(poly: Any) -> int:
    return max(int(c.p).bit_length() + int(c.q).bit_length() for c in poly.coeffs())


def simple(ball: Any) -> Fraction | None:
    """The rational number with a denominator of at most 24 that a narrow ball holds, if there is one."""
    if not ball.is_finite() or ball.rad() > 1e-12 or abs(ball) > 1000:
        return None
    guess = Fraction(float(ball.mid())).limit_denominator(24)
    return guess if ball.contains(fmpq(guess.numerator, guess.denominator)) else None


def vanishes(program: Program, goal: int, variable: str, balls: list[Any], hints: dict[str, Any], deadline: float) -> bool:
    """Whether the normal form of an entry at the point of `balls` is zero: then the entry is zero on that whole component."""
    for _ in range(12):
        try:
            return bool(Field(program, variable, balls, hints, deadline).element(goal)[0].is_zero())
        except Restart:
            continue
    raise Budget("units that never settle")
