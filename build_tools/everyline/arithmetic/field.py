"""Functions in the exact field, and the exact rung itself: whether an entry of a program is zero around a point."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from flint import arb, fmpq

from .balls import Point
from .elements import MAX_TERMS, Element, Elements, Restart
from .program import Program
from .stops import Budget, NotSupported, Unsure

MAX_TURNS = 64
HALF = Fraction(1, 2)


class Field(Elements):
    """Logarithms, exponentials, roots, circular functions and entries of a program as elements."""

    def ln(self, a: Element) -> Element:
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
                conjugate = p.compose(*(-s if s == r else s for s in self.ctx.gens()))
                conjugate /= conjugate.leading_coefficient()
                if any(g.kind == "ln" and g.poly == conjugate for g in self.generators):
                    return self.add(self.ln(self.make(p * conjugate, self.one)), self.log_prime(conjugate), -1)
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

    def turned(self, v: Element, n: int) -> tuple[Any, Any]:
        """(q + ip)^n for v = p/q and n ≥ 0, (q - ip)^-n else, as two polynomials: its argument is n·arctan v."""
        if abs(n) > MAX_TURNS:
            raise Budget("too many multiples of an angle")
        real, imaginary, p, q = self.one, self.nought[0], v[0] if n > 0 else -v[0], v[1]
        for _ in range(abs(n)):
            real, imaginary = self.reduce(real * q - imaginary * p), self.reduce(real * p + imaginary * q)
            if len(real) > MAX_TERMS:
                raise Budget("the normal form grows too large")
        return real, imaginary

    def cos_sin(self, a: Element) -> tuple[Element, Element]:
        """Cosine and sine of an angle; each angle is worked out once."""
        known = next((pair for angle, pair in self.circles if angle == a), None)
        if known is None:
            known = self._cos_sin(a)
            self.circles.append((a, known))
        return known

    def _cos_sin(self, a: Element) -> tuple[Element, Element]:
        """By the addition formulas over the monomials of the angle."""
        result = self.unity, self.nought
        for k, m, d in self.split(a):
            if self.bare(m, d, "pi") and simple_angle(k):
                result = self.times(result, self.angle(k))
                continue
            g = self.bare(m, d, "arctan")
            if g and k.denominator == 1:
                # Below the cosine and sine of k·arctan p/q stands √(p²+q²)^k.
                t, n = (g.poly, g.bottom), int(k)
                shrink = self.power(self.root(self.make(t[0] ** 2 + t[1] ** 2, self.one), HALF), abs(n))
            else:
                index, units = self.generator("tan", m, d, k)
                t, n = self.symbol(index), 2 * int(units)
                shrink = self.power(self.make(t[0] ** 2 + self.one, self.one), abs(n) // 2)
            real, imaginary = self.turned(t, n)
            turn = self.make(real * shrink[1], shrink[0]), self.make(imaginary * shrink[1], shrink[0])
            result = turn if result[0] is self.unity else self.times(result, turn)
        return result

    def angle(self, k: Fraction) -> tuple[Element, Element]:
        """Cosine and sine of kπ, by halves and multiples of π/1, π/3 and π/5."""
        k %= 2
        power = k.denominator & -k.denominator
        odd = k.denominator // power
        if odd > 1 < power:  # as a sum of simpler angles, for the root of 2 + √3 is not seen to be (√2 + √6)/2
            first = next(Fraction(a, odd) for a in range(2 * odd) if (power * (k - Fraction(a, odd))).denominator == 1)
            return self.times(self.angle(first), self.angle(k - first))
        if odd == 1 and k >= HALF:  # a quarter turn more
            c, s = self.angle(k - HALF)
            return self.scale(s, -1), c
        if k == 0:
            return self.unity, self.nought
        if k.numerator > 1:
            return self.times(self.angle(Fraction(1, k.denominator)), self.angle(k - Fraction(1, k.denominator)))
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
        if share is None or not simple_angle(share):
            return None
        (a, b), (d, e), (c, s) = self.turned(v, m), self.turned(w, n), self.angle(share)
        off = self.add(self.mul((a * d - b * e, self.one), s), self.mul((a * e + b * d, self.one), c), -1)
        return self.scale(self.constant("pi"), share) if off[0].is_zero() else None

    def element(self, program: Program, goal: int) -> Element:
        """The normal form of an entry. Raises `Restart`, `Unsure`, `Budget` or `NotSupported`."""
        return program.fold(program.order(goal), self.apply)[goal]

    def apply(self, op: tuple[Any, ...], *parts: Element) -> Element:
        """An operation on elements."""
        a = parts[0] if parts else self.nought
        match op[0]:
            case "num":
                return self.ctx.constant(op[1]), self.one
            case "pi" | "var":
                return self.constant(op[0] if op[0] == "pi" else op[1])
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
                raise Unsure
            case "add" | "mul" | "div" | "exp" | "ln" | "arctan":
                return getattr(self, op[0])(*parts)  # type: ignore[no-any-return]
            case "limit" if self.limits:
                return self.limits(*op[1:])
        raise NotSupported(op[0])


def simple_angle(k: Fraction) -> bool:
    """Whether the cosine of kπ is written with square roots here: other angles stay generators."""
    return k.denominator <= 32 and k.denominator // (k.denominator & -k.denominator) in (1, 3, 5)


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
