"""Polynomials in one variable with rational coefficients, on FLINT: expand, divide, factor, partial fractions."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from flint import fmpq, fmpq_mat, fmpq_poly

from ..notation.build import ONE, add, multiply, names, number, power, rational, summands
from ..notation.tree import Name, Negative, Node, Number, Power, Product, Quotient, Sum
from .tidy import tidy

Coefficients = tuple[Fraction, ...]
LARGEST = 24


def _fraction(value: fmpq) -> Fraction:
    return Fraction(int(value.p), int(value.q))


def _poly(coefficients: Sequence[Fraction]) -> fmpq_poly:
    return fmpq_poly([fmpq(c.numerator, c.denominator) for c in coefficients])


def _coefficients(poly: fmpq_poly) -> Coefficients:
    return tuple(_fraction(c) for c in poly.coeffs())


def coefficients(node: Node, variable: str, largest: int = LARGEST) -> Coefficients | None:
    """The rational coefficients from the constant up, where the node is such a polynomial of degree ≤ `largest`; zero is `()`."""
    poly = _read(node, variable, largest)
    return None if poly is None else _coefficients(poly)


def _read(node: Node, variable: str, largest: int) -> fmpq_poly | None:
    value = rational(node)
    if value is not None:
        return _poly([value])
    match node:
        case Name(name=name):
            return fmpq_poly([0, 1]) if name == variable else None
        case Negative(argument=argument):
            inner = _read(argument, variable, largest)
            return None if inner is None else -inner
        case Sum(terms=terms):
            total = fmpq_poly([0])
            for term in terms:
                part = _read(term, variable, largest)
                if part is None:
                    return None
                total += part
            return total
        case Product(factors=factors):
            product = fmpq_poly([1])
            for factor in factors:
                part = _read(factor, variable, largest)
                if part is None or product.degree() + part.degree() > largest:
                    return None
                product *= part
            return product
        case Quotient(top=top, bottom=bottom):
            part, below = _read(top, variable, largest), rational(bottom)
            return None if part is None or not below else part * fmpq(below.denominator, below.numerator)
        case Power(base=base, exponent=Number(value=n)) if n.denominator == 1 and 0 < n <= largest:
            part = _read(base, variable, largest)
            return None if part is None or part.degree() * n > largest else part ** int(n)
    return None


def polynomial(values: Sequence[Fraction], variable: Node) -> Node:
    """The polynomial as it is written, highest power first (a leading minus is moved back where a positive constant can lead)."""
    terms = [tidy(multiply(number(c), power(variable, k))) for k, c in enumerate(values) if c][::-1]
    if len(terms) == 2 and isinstance(terms[0], Negative) and not isinstance(terms[1], Negative):
        terms.reverse()
    return add(*terms)


def quotient_remainder(top: Coefficients, bottom: Coefficients) -> tuple[Coefficients, Coefficients]:
    q, r = divmod(_poly(top), _poly(bottom))
    return _coefficients(q), _coefficients(r)


def product(a: Coefficients, b: Coefficients) -> Coefficients:
    return _coefficients(_poly(a) * _poly(b))


def derivative(a: Coefficients) -> Coefficients:
    return _coefficients(_poly(a).derivative())


def factors(values: Coefficients) -> tuple[Fraction, list[tuple[Coefficients, int]]]:
    """Content and irreducible factors over the rationals, each with whole coefficients and a positive leading one, by degree."""
    whole, found = _poly(values).factor()
    content, listed = _fraction(fmpq(whole)), []
    for factor, times in found:
        cs = [_fraction(fmpq(c)) for c in factor.coeffs()]
        scale = Fraction(1)
        for c in cs:
            scale *= (c * scale).denominator
        if cs[-1] * scale < 0:
            scale = -scale
        listed.append((tuple(c * scale for c in cs), int(times)))
        content /= scale ** int(times)
    listed.sort(key=lambda f: (len(f[0]), [-c for c in reversed(f[0])]))
    return content, listed


def in_powers(values: Coefficients, base: Coefficients) -> Coefficients | None:
    """The coefficients of a polynomial written in powers of another one, where that is possible."""
    digits: list[Fraction] = []
    rest = values
    while rest:
        rest, digit = quotient_remainder(rest, base)
        if len(digit) > 1:
            return None
        digits.append(digit[0] if digit else Fraction(0))
    return tuple(digits)


Part = tuple[Coefficients, Coefficients, int]


def partial_fractions(top: Coefficients, bottom: Sequence[tuple[Coefficients, int]]) -> list[Part]:
    """The parts (numerator, factor, power) of a proper fraction over the product of the given coprime factors."""
    whole = _poly([Fraction(1)])
    for factor, times in bottom:
        whole *= _poly(factor) ** times
    columns: list[tuple[fmpq_poly, Part]] = []
    for factor, times in bottom:
        for k in range(1, times + 1):
            cofactor = whole // _poly(factor) ** k
            for j in range(len(factor) - 1):
                columns.append((cofactor * fmpq_poly([0] * j + [1]), (tuple([Fraction(0)] * j + [Fraction(1)]), factor, k)))
    n = whole.degree()
    matrix = fmpq_mat(n, n, [c[0][i] for i in range(n) for c in columns])
    solved = matrix.solve(fmpq_mat(n, 1, [_poly(top)[i] for i in range(n)]))
    parts: dict[tuple[Coefficients, int], list[Fraction]] = {}
    for i, (_, (unit, factor, k)) in enumerate(columns):
        numerator = parts.setdefault((factor, k), [Fraction(0)] * (len(factor) - 1))
        numerator[len(unit) - 1] = _fraction(solved[i, 0])
    result = []
    for (factor, k), numerator in parts.items():
        while numerator and numerator[-1] == 0:
            numerator.pop()
        if numerator:
            result.append((tuple(numerator), factor, k))
    return result


def rational_function(node: Node, variable: str) -> tuple[Coefficients, list[tuple[Coefficients, int]]] | None:
    """Numerator and the factors of the denominator as written, where the node is a quotient of polynomials."""
    from .terms import term_of

    term = term_of(node)
    top: Coefficients = (term.coefficient,)
    bottom: list[tuple[Coefficients, int]] = []
    for base, exponent in term.powers:
        values = coefficients(base, variable)
        if values is None or not isinstance(exponent, Fraction) or exponent.denominator != 1:
            return None
        if exponent < 0:
            bottom.append((values, int(-exponent)))
            continue
        for _ in range(int(exponent)):
            if len(top) + len(values) > LARGEST:
                return None
            top = product(top, values)
    return top, bottom


def linear(node: Node, variable: str) -> tuple[Node, Node] | None:
    """(a, b) with node = a·x + b, a not zero, where a and b (any trees) do not hold x."""
    quadratic_ = by_degree(node, variable, 1)
    return None if quadratic_ is None or len(quadratic_) != 2 else (quadratic_[1], quadratic_[0])


def by_degree(node: Node, variable: str, largest: int = 4) -> tuple[Node, ...] | None:
    """Coefficients (any trees free of x, tidy) from the constant up, of a sum of multiples of powers of x; the last is not zero."""
    from .terms import Term, term_of
    from .tidy import join

    gathered: dict[int, list[Node]] = {}
    neat = tidy(node)
    x = Name(variable)
    for t in summands(neat):
        term = term_of(t)
        degree = term.exponent(x)
        rest = term.without(x)
        if not isinstance(degree, Fraction) or degree.denominator != 1 or not 0 <= degree <= largest:
            return None
        whole = join(Term(rest.coefficient, rest.powers))
        if variable in names(whole):
            if not isinstance(whole, Product | Quotient | Sum | Negative):
                return None
            expanded = expand(whole, variable) if coefficients(whole, variable) is not None else None
            if expanded is None or degree != 0 or expanded == whole:
                return None
            inner = by_degree(expanded, variable, largest)
            if inner is None:
                return None
            for k, c in enumerate(inner):
                gathered.setdefault(k, []).append(c)
            continue
        gathered.setdefault(int(degree), []).append(whole)
    values = [tidy(add(*gathered.get(k, ()))) for k in range(max(gathered) + 1)]
    while values and values[-1] == number(0):
        values.pop()
    return tuple(values)


def expand(node: Node, variable: str) -> Node | None:
    """A polynomial multiplied out, highest power first; None where it is not one over the rationals."""
    values = coefficients(node, variable)
    return None if values is None else polynomial(values, Name(variable))


def factored(values: Coefficients, variable: Node) -> Node:
    """A polynomial as the product of its irreducible factors."""
    content, found = factors(values)
    return multiply(number(content), *(power(polynomial(f, variable), n) for f, n in found)) if found else number(content) or ONE
