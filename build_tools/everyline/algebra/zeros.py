"""Where an expression is zero between two numbers: polynomials of low degree, sines and cosines, and what wraps them."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, pi

from ..notation.build import ONE, PI, TWO, ZERO, E, add, call, divide, infinite, multiply, names, negate, number, power, root, subtract
from ..notation.tree import Absolute, Call, Negative, Node, Power, Product, Quotient, Root, Sum
from .numbers import number_of, sign
from .poly import Coefficients, coefficients, factors, linear
from .terms import term_of
from .tidy import tidy

MOST = 12


def zeros_between(node: Node, variable: str, low: Node, high: Node) -> list[Node] | None:
    """The zeros strictly between the ends, from left to right; None where they could not all be found."""
    a, b = _float(low), _float(high)
    if a is None or b is None:
        return None
    found = _zeros(tidy(node), variable, a, b)
    if found is None:
        return None
    placed = {z: _float(z) for z in found}
    inside = [(v, z) for z, v in placed.items() if v is not None and a < v < b and abs(v - a) > 1e-12 and abs(v - b) > 1e-12]
    return [z for _, z in sorted(inside, key=lambda p: p[0])]


def _float(node: Node) -> float | None:
    if infinite(node):
        return float("-inf") if isinstance(node, Negative) else float("inf")
    value = number_of(node)
    return None if value is None else float(value)


def _zeros(node: Node, x: str, a: float, b: float) -> list[Node] | None:
    if x not in names(node):
        return []
    values = coefficients(node, x)
    if values is not None:
        return _polynomial(values)
    match node:
        case Negative(argument=u) | Root(radicand=u) | Power(base=u) | Absolute(argument=u):
            return _zeros(u, x, a, b)
        case Sum(terms=(first, second)):
            return _of_two((first, second), x, a, b)
        case Quotient(top=u, bottom=v) if _zeros(v, x, a, b) == []:
            return _zeros(u, x, a, b)
        case Product(factors=parts):
            every = [_zeros(p, x, a, b) for p in parts]
            kept = [z for z in every if z is not None]
            return [z for part in kept for z in part] if len(kept) == len(every) else None
        case Call(function="ln", argument=u):
            return _zeros(tidy(subtract(u, ONE)), x, a, b)
        case Call(function="sinh" | "tanh" | "arctan" | "arcsin" | "arsinh", argument=u):
            return _zeros(u, x, a, b)
        case Call(function="cosh" | "sech" | "exp"):
            return []
        case Call(function="sin" | "cos" | "tan" as f, argument=u):
            return _wave(u, x, ZERO if f != "cos" else divide(PI, TWO), a, b)
    return None


def _polynomial(values: Coefficients) -> list[Node] | None:
    """The real zeros, where every irreducible factor is linear or quadratic."""
    if not values:
        return None
    found: list[Node] = []
    for factor, _ in factors(values)[1]:
        if len(factor) == 2:
            found.append(number(-factor[0] / factor[1]))
        elif len(factor) == 3:
            c, b, a = factor
            under = b * b - 4 * a * c
            if under > 0:
                found += [
                    tidy(divide(add(number(-b), multiply(number(s), root(number(under)))), number(2 * a)))
                    for s in (Fraction(-1), Fraction(1))
                ]
        else:
            return None
    return found


def _of_two(terms: tuple[Node, Node], x: str, a: float, b: float) -> list[Node] | None:
    """The zeros of p sin u + q cos u, and of p f(u) + c where f can be turned round."""
    one, other = sorted(terms, key=lambda t: x not in names(t))
    moving = term_of(one)
    if len(moving.powers) != 1 or (moving.powers[0][1] != 1 and moving.powers[0][0] != E):
        return None
    base, exponent = moving.powers[0]
    if x in names(other):
        second = term_of(other)
        kinds = {f.function: t.coefficient for t in (moving, second) for f, e in t.powers if isinstance(f, Call) and e == 1}
        angles = {f.argument for t in (moving, second) for f in t.powers_of_bases() if isinstance(f, Call)}
        if set(kinds) != {"sin", "cos"} or len(angles) != 1 or len(second.powers) != 1:
            return None
        return _wave(angles.pop(), x, tidy(call("arctan", number(-kinds["cos"] / kinds["sin"]))), a, b)
    level = tidy(divide(negate(other), number(moving.coefficient)))
    if base == E and not isinstance(exponent, Fraction):
        return _zeros(tidy(subtract(exponent, call("ln", level))), x, a, b) if sign(level) > 0 else []
    match base:
        case Call(function="ln", argument=u):
            return _zeros(tidy(subtract(u, power(E, level))), x, a, b)
        case Call(function="tan", argument=u):
            return _wave(u, x, tidy(call("arctan", level)), a, b)
        case Call(function="sin" | "cos" as f, argument=u):
            return _level(f, u, level, x, a, b)
        case Absolute(argument=u) if sign(level) >= 0:
            both = [_zeros(tidy(add(u, end)), x, a, b) for end in (level, negate(level))]
            return None if None in both else [z for found in both for z in found or []]
    return None


def _level(function: str, angle: Node, level: Node, x: str, a: float, b: float) -> list[Node] | None:
    """Where a sine or cosine is at a level between -1 and 1."""
    if sign(subtract(ONE, Absolute(level))) <= 0:
        return [] if sign(subtract(Absolute(level), ONE)) > 0 else None
    first = tidy(call("arcsin" if function == "sin" else "arccos", level))
    second = subtract(PI, first) if function == "sin" else negate(first)
    both = [_wave(angle, x, start, a, b, 2) for start in (first, tidy(second))]
    return None if None in both else [z for found in both for z in found or []]


def _wave(angle: Node, x: str, first: Node, a: float, b: float, every: int = 1) -> list[Node] | None:
    """Where a linear angle is `first` + kπ, k a multiple of `every`."""
    line = linear(angle, x)
    slope, shift = (None, None) if line is None else (_float(line[0]), _float(line[1]))
    start = _float(first)
    if line is None or slope is None or shift is None or start is None or abs(a) == float("inf") or abs(b) == float("inf"):
        return None
    ends = sorted((slope * e + shift - start) / (every * pi) for e in (a, b))
    turns = range(ceil(ends[0] - 1e-9), floor(ends[1] + 1e-9) + 1)
    if len(turns) > MOST:
        return None
    return [tidy(divide(subtract(add(first, multiply(number(every * k), PI)), line[1]), line[0])) for k in turns] or []
