"""Sums inside an integrand that an identity makes into one function.

Sources: NIST DLMF 4.21 (trigonometric) and 4.35 (hyperbolic). Each rewriting is checked by the kernel before it is used.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..algebra.terms import term_of
from ..algebra.tidy import tidy
from ..notation.build import ONE, TWO, add, call, multiply, number, power, replace, subtract, walk
from ..notation.tree import Call, Equation, Node, Sum
from .asking import depends
from .rewriting import Rewriting, doubled


def in_sum(rest: Node, variable: str) -> Iterator[Rewriting]:
    """Sums inside the integrand that an identity makes into one function."""
    for part in dict.fromkeys(walk(rest)):
        if isinstance(part, Sum) and depends(part, variable):
            for new, rule in _merged(part):
                yield Rewriting(replace(rest, part, new), rule)
            for base in [p for p in dict.fromkeys(walk(part)) if isinstance(p, Call) and p.function in ("sin", "cos")]:
                other = call("cos" if base.function == "sin" else "sin", base.argument)
                square = power(base, 2)
                if other in walk(part) and base in term_of(rest).without(part).powers_of_bases() and square in walk(part):
                    new = tidy(replace(part, square, subtract(ONE, power(other, 2))))
                    yield Rewriting(replace(rest, part, new), Equation(square, subtract(ONE, power(other, 2))))


def _merged(node: Sum) -> Iterator[tuple[Node, Equation]]:
    terms = {term_of(t).powers: term_of(t).coefficient for t in node.terms}
    squares = {p[0][0]: c for p, c in terms.items() if len(p) == 1 and p[0][1] == 2 and isinstance(p[0][0], Call)}
    fourths = {p[0][0]: c for p, c in terms.items() if len(p) == 1 and p[0][1] == 4 and isinstance(p[0][0], Call)}
    constant = terms.get((), Fraction(0))
    for base, c in squares.items():
        assert isinstance(base, Call)
        a = base.argument
        other = {"sin": "cos", "cos": "sin"}.get(base.function)
        partner = call(other, a) if other else None
        square = power(base, 2)
        if partner is not None and partner in squares and base.function == "cos" and len(terms) == 2:
            if squares[partner] == -c:
                double = call("cos", doubled(a))
                yield multiply(number(c), double), Equation(subtract(square, power(partner, 2)), double)
            elif squares[partner] == c:
                yield number(c), Equation(add(power(partner, 2), square), ONE)
        elif partner is not None and partner in squares and base.function == "cos" and squares[partner] == c:
            others = [t for t in node.terms if term_of(t).powers not in (((base, Fraction(2)),), ((partner, Fraction(2)),))]
            yield tidy(add(number(c), *others)), Equation(add(power(partner, 2), square), ONE)
        if len(terms) != 2 or not constant:
            continue
        if partner is not None and constant == -c:
            yield multiply(number(constant), power(partner, 2)), Equation(subtract(ONE, square), power(partner, 2))
        if partner is not None and c == -2 * constant:
            sign = 1 if base.function == "sin" else -1
            double = call("cos", doubled(a))
            yield multiply(number(constant * sign), double), Equation(call("cos", doubled(a)), _cosine_ofdouble(base))
        for f, g in (("tan", "sec"), ("cot", "csc"), ("sinh", "cosh")):
            if base.function == f and constant == c:
                yield multiply(number(c), power(call(g, a), 2)), Equation(add(ONE, square), power(call(g, a), 2))
            if base.function == g and constant == -c:
                yield multiply(number(c), power(call(f, a), 2)), Equation(subtract(square, ONE), power(call(f, a), 2))
    for base, c in fourths.items():
        assert isinstance(base, Call)
        sine = Call("sin", base.argument)
        if base.function == "cos" and fourths.get(sine) == -c and len(terms) == 2:
            double = call("cos", doubled(base.argument))
            yield multiply(number(c), double), Equation(subtract(power(base, 2), power(sine, 2)), double)


def _cosine_ofdouble(base: Call) -> Node:
    square = multiply(TWO, power(base, 2))
    return subtract(ONE, square) if base.function == "sin" else subtract(square, ONE)
