"""One-sided limits: what an entry of a program is like as its variable h tends to 0 from above, with exact coefficients.

An expansion is e^P · (Σ cₖ h^k + O(h^limit)): rational exponents k, coefficients in the field of constants and of L = ln(1/h),
and P the part of an exponent that grows. Of two different e^P the smaller is part of the other's remainder. A leading
coefficient counts only if a ball proves that it is not zero. (Taylor series: DLMF 4.6, 4.19, 4.24; scales: G. H. Hardy,
Orders of Infinity.)
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import factorial, prod
from typing import Any, TypeVar

from flint import arb

from .balls import Point
from .elements import Element, Restart
from .field import Field
from .program import Program
from .stops import Budget, NotSupported, Undefined, Unsure

H, LOG = "h → 0", "ln(1/h)"
NEVER = Fraction(10**9)
Terms = dict[Fraction, Element]
Found = TypeVar("Found")


@dataclass(slots=True)
class Expansion:
    terms: Terms
    limit: Fraction = NEVER
    growth: Terms | None = None

    @property
    def start(self) -> Fraction:
        return min(self.terms, default=self.limit)


class Expander:
    """Expansions in one field. `reach` is how many orders past the leading one are kept."""

    def __init__(self, field: Field, reach: int) -> None:
        self.field, self.reach = field, Fraction(reach)
        field.point[LOG] = arb(1)  # so that the ball of a top coefficient times a power of L is that of the coefficient
        self.log = field.constant(LOG)
        self.place = next(i for i, s in enumerate(field.ctx.gens()) if s == self.log[0])

    def plain(self, c: Element) -> Expansion:
        return Expansion({Fraction(0): c} if c[0] else {})

    def trim(self, terms: Terms, limit: Fraction, growth: Terms | None) -> Expansion:
        terms = {k: c for k, c in terms.items() if c[0] and k < limit}
        limit = min(limit, min(terms, default=limit) + self.reach) if terms and (len(terms) > 1 or limit < NEVER) else limit
        return Expansion({k: c for k, c in terms.items() if k < limit}, limit, growth or None)

    def degree(self, c: Element) -> tuple[int, int]:
        """The power of L that a coefficient grows like, and its sign; `Unsure` if that is not proved."""
        total, sign = 0, 1
        for poly, way in ((c[0], 1), (c[1], -1)):
            top = self.top(poly)
            total, sign = total + way * int(top.degrees()[self.place]), sign * self.field.sign(top)
        return total, sign

    def top(self, poly: Any) -> Any:
        degree = poly.degrees()[self.place]
        return self.field.ctx.from_dict({m: c for m, c in poly.to_dict().items() if m[self.place] == degree})

    def pure(self, c: Element) -> Element:
        if c[0].degrees()[self.place] > 0 or c[1].degrees()[self.place] > 0:
            raise NotSupported("a function of a logarithm that tends to infinity")
        return c

    def lead(self, a: Expansion) -> tuple[Fraction, Element, int, int]:
        """The leading exponent and coefficient, its power of L and its sign."""
        if not a.terms:
            raise Unsure
        return (k := min(a.terms)), a.terms[k], *self.degree(a.terms[k])

    def grows(self, p: Terms | None) -> int:
        """The sign of the infinity that an exponent tends to (0: it has no growing part)."""
        return self.lead(Expansion(p))[3] if p else 0

    def combined(self, p: Terms | None, q: Terms | None, factor: Fraction = Fraction(1)) -> Terms:
        merged = dict(p or {})
        for k, c in (q or {}).items():
            merged[k] = self.field.add(merged.get(k, self.field.nought), self.field.scale(c, factor))
        return {k: c for k, c in merged.items() if c[0]}

    def add(self, a: Expansion, b: Expansion) -> Expansion:
        if not a.terms and a.limit == NEVER:
            return b
        if not b.terms and b.limit == NEVER:
            return a
        apart = self.combined(a.growth, b.growth, Fraction(-1))
        if apart:
            big = a if self.grows(apart) > 0 else b
            return self.trim(big.terms, min(big.limit, big.start + self.reach), big.growth)
        return self.trim(self.combined(a.terms, b.terms), min(a.limit, b.limit), a.growth)

    def mul(self, a: Expansion, b: Expansion) -> Expansion:
        limit = min(a.limit + b.start, b.limit + a.start, NEVER)
        terms: Terms = {}
        for k, c in a.terms.items():
            for j, d in b.terms.items():
                if k + j < min(limit, a.start + b.start + self.reach) or len(a.terms) == 1 == len(b.terms):
                    terms = self.combined(terms, {k + j: self.field.mul(c, d)})
                else:
                    limit = min(limit, a.start + b.start + self.reach)
        return self.trim(terms, limit, self.combined(a.growth, b.growth))

    def compose(self, coefficients: Callable[[int], Element], small: Expansion) -> Expansion:
        """Σ coefficients(k)·smallᵏ for a small expansion that tends to zero."""
        total, power, k = self.plain(coefficients(0)), self.plain(self.field.unity), 0
        if small.start <= 0:
            raise Unsure
        while small.terms or small.limit < NEVER:
            k, power = k + 1, self.mul(power, small)
            if power.start >= self.reach:
                return self.trim(total.terms, min(total.limit, power.start), None)
            total = self.add(total, self.mul(power, self.plain(coefficients(k))))
        return total

    def relative(self, a: Expansion) -> tuple[Fraction, Element, Expansion]:
        """k, c and the small δ with a = c h^k (1 + δ), its growth left aside."""
        k, c, _, _ = self.lead(a)
        rest = {j - k: self.field.div(d, c) for j, d in a.terms.items() if j != k}
        return k, c, Expansion(rest, min(a.limit - k, NEVER) if a.limit < NEVER else NEVER)

    def power(self, a: Expansion, n: Fraction) -> Expansion:
        growth = self.combined(None, a.growth, n)
        if not a.terms and n > 0:
            return a if a.limit == NEVER else Expansion({}, a.limit * n, growth)
        if not a.terms and a.limit == NEVER:
            raise Undefined
        k, c, small = self.relative(a)
        if n.denominator == 1:
            c = self.field.power(c, int(n))
        else:
            positive = self.degree(c)[1] > 0
            if not positive and n.denominator % 2 == 0:
                raise Undefined
            c = self.field.root(self.pure(c), n, positive)
        return self.mul(
            Expansion({k * n: c}, NEVER, growth),
            self.compose(lambda j: self.field.number(prod((n - i) / (i + 1) for i in range(j))), small),
        )

    def settled(self, a: Expansion) -> tuple[Element | None, Expansion]:
        """a = c + δ with a constant c and a small δ; c is None if a does not stay finite."""
        sense = self.grows(a.growth)
        if sense < 0:
            return self.field.nought, Expansion({}, self.reach)
        if sense > 0 or a.start < 0 or (a.start == 0 and a.terms and self.degree(a.terms[a.start])[0] > 0):
            return None, a
        if a.limit <= 0:
            raise Unsure
        return self.pure(a.terms.get(Fraction(0), self.field.nought)), Expansion({k: c for k, c in a.terms.items() if k > 0}, a.limit)

    def exp(self, a: Expansion) -> Expansion:
        if self.grows(a.growth) > 0:
            raise NotSupported("an exponential of an exponential that grows")
        if a.growth:
            a = Expansion({}, self.reach)
        if a.limit <= 0:
            raise Unsure
        growth = {k: c for k, c in a.terms.items() if k < 0}
        constant, shift = a.terms.get(Fraction(0), self.field.nought), Fraction(0)
        slope = constant[0].derivative(self.place)
        if constant[1].is_constant() and slope and slope.is_constant():
            lead = slope.leading_coefficient()
            shift = Fraction(int(lead.p), int(lead.q))
            constant = self.field.add(constant, self.field.scale(self.log, shift), -1)
        elif slope or constant[1].degrees()[self.place] > 0:
            growth, constant = {**growth, Fraction(0): constant}, self.field.nought
        factor = Expansion({-shift: self.field.exp(constant)}, NEVER, growth)
        small = Expansion({k: c for k, c in a.terms.items() if k > 0}, a.limit)
        return self.mul(factor, self.compose(lambda k: self.field.number(Fraction(1, factorial(k))), small))

    def ln(self, a: Expansion) -> Expansion:
        k, c, small = self.relative(a)
        if self.degree(c)[1] < 0:
            raise Undefined
        start = self.field.add(self.field.ln(self.pure(c)), self.field.scale(self.log, -k))
        tail = self.compose(lambda j: self.field.number(Fraction((-1) ** (j + 1), j) if j else 0), small)
        return self.add(Expansion(self.combined(a.growth, {Fraction(0): start})), tail)

    def wave(self, a: Expansion, cosine: bool) -> Expansion:
        c, small = self.settled(a)
        if c is None:
            return Expansion({}, Fraction(0))  # it oscillates: all that is known is that it stays bounded
        x, y = self.field.cos_sin(c)
        cycle = [x, self.field.scale(y, -1), self.field.scale(x, -1), y]
        return self.compose(lambda k: self.field.scale(cycle[(k + 3 * (not cosine)) % 4], Fraction(1, factorial(k))), small)

    def arctan(self, a: Expansion) -> Expansion:
        c, small = self.settled(a)
        if c is None:
            quarter = self.field.scale(self.field.constant("pi"), Fraction(self.lead(a)[3], 2))
            inverse = self.arctan(self.power(a, Fraction(-1)))
            return self.add(self.plain(quarter), self.mul(self.plain(self.field.number(-1)), inverse))
        below = self.add(self.plain(self.field.add(self.field.unity, self.field.mul(c, c))), self.mul(self.plain(c), small))
        step = self.mul(small, self.power(below, Fraction(-1)))
        series = self.compose(lambda k: self.field.number(Fraction((-1) ** (k // 2), k) if k % 2 else 0), step)
        return self.add(self.plain(self.field.arctan(c)), series)

    def expansion(self, program: Program, goal: int) -> Expansion:
        """The expansion of an entry. Raises `Undefined` where it has no real values near 0+, else `Unsure` or `NotSupported`."""
        return program.fold(program.order(goal), self.apply)[goal]

    def apply(self, op: tuple[Any, ...], *parts: Expansion) -> Expansion:
        kind = op[0]
        if not parts:
            return Expansion({Fraction(1): self.field.unity}) if op == ("var", H) else self.plain(self.field.apply(op))
        a = parts[0]
        match kind:
            case "add" | "mul" | "exp" | "ln" | "arctan":
                return getattr(self, kind)(*parts)  # type: ignore[no-any-return]
            case "div":
                return self.mul(a, self.power(parts[1], Fraction(-1)))
            case "pow" | "root":
                return self.power(a, Fraction(*op[2:]))
            case "abs" | "sgn":
                sign = self.plain(self.field.number(self.lead(a)[3]))
                return sign if kind == "sgn" else self.mul(sign, a)
            case "sin" | "cos":
                return self.wave(a, kind == "cos")
        raise NotSupported(kind)

    def tends(self, a: Expansion) -> Element | int:
        """Where an expansion tends as h → 0+: a number, or the sign of infinity. `Unsure` if it does not say."""
        sense = self.grows(a.growth)
        if sense < 0 or (sense == 0 and a.start > 0):
            return self.field.nought
        k, c, degree, sign = self.lead(a)
        if sense > 0 or k < 0 or degree > 0:
            return sign
        if a.limit <= 0:
            raise Unsure
        return self.field.make(self.top(c[0]), self.top(c[1])) if degree == 0 else self.field.nought


def with_field(deadline: float, ask: Callable[[Expander], Found], point: Point) -> Found:
    """What `ask` finds in a field near `point`, built anew when it needs finer units, and with more orders when it is unsure."""
    hints: dict[str, Any] = {}
    for reach in (6, 12, 24):
        for _ in range(12):
            try:
                return ask(Expander(Field(point, hints, deadline), reach))
            except Restart:
                continue
            except Unsure:
                break
    raise Budget("the expansion says nothing")
