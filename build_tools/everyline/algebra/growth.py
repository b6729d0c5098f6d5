"""Shapes that make a limit plain: one fraction, one logarithm, one exponential, a leading power, a quotient of two."""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import ONE, ZERO, E, add, divide, multiply, names, negate, number, power, substitute, within_bars
from ..notation.tree import Absolute, Call, Name, Negative, Node, Power, Product, Quotient, Root, Sum
from .derivative import derivative
from .numbers import is_zero, sign
from .terms import Exponent, Term, as_node, term_of
from .tidy import join, tidy


def together(terms: tuple[Node, ...]) -> Node | None:
    """A sum of fractions over one denominator, where there is one."""
    parts = [term_of(t) for t in terms]
    below: dict[Node, Fraction] = {}
    for part in parts:
        for base, exponent in part.powers:
            if isinstance(exponent, Fraction) and exponent < 0:
                below[base] = max(below.get(base, Fraction(0)), -exponent)
    if not below:
        return None
    bottom = Term(Fraction(1), tuple(below.items()))
    top = tidy(add(*(join(p.times(bottom)) for p in parts)))
    return Quotient(top, join(bottom))


def joined_logs(terms: tuple[Node, ...], variable: str) -> Node | None:
    """a ln f - a ln g + … as a ln(f/g) + …"""
    logs: list[tuple[Fraction, Node]] = []
    rest: list[Node] = []
    for t in terms:
        term = term_of(t)
        if len(term.powers) == 1 and isinstance(term.powers[0][0], Call) and term.powers[0][0].function == "ln" and term.powers[0][1] == 1:
            argument = term.powers[0][0].argument
            logs.append((term.coefficient, within_bars(argument)))
        else:
            rest.append(t)
    if len(logs) < 2:
        return None
    least = min((abs(c) for c, _ in logs), key=lambda c: c)
    inside = multiply(*(power(a, number(c / least)) for c, a in logs))
    return add(multiply(number(least), Call("ln", Absolute(inside))), *rest)


def one_base(term: Term, variable: str) -> Term:
    """Exponentials of several bases as one: eˣ/2ˣ is e^(x - x ln 2)."""
    several = [(b, e) for b, e in term.powers if not isinstance(e, Fraction) and variable not in names(b)]
    if len(several) < 2:
        return term
    exponent = tidy(add(*(multiply(e, Call("ln", b)) for b, e in several if not isinstance(e, Fraction))))
    slope = tidy(derivative(exponent, variable))
    if variable not in names(slope):
        exponent = tidy(multiply(slope, Name(variable)))
        shift = tidy(substitute(multiply(*(power(b, as_node(e)) for b, e in several)), {variable: ZERO}))
        rest = term.without(*(b for b, _ in several))
        return Term(rest.coefficient, (*rest.powers, (shift, Fraction(1)), (E, exponent)))
    rest = term.without(*(b for b, _ in several))
    return Term(rest.coefficient, (*rest.powers, (E, exponent)))


def leading(node: Node, variable: str, direction: int) -> tuple[Node, Fraction] | None:
    """(c, d) where an algebraic expression grows like c·|x|^d at plus or minus infinity; None where it is not algebraic or cancels."""
    if variable not in names(node):
        return node, Fraction(0)
    match node:
        case Name():
            return number(direction), Fraction(1)
        case Negative(argument=a):
            found = leading(a, variable, direction)
            return None if found is None else (negate(found[0]), found[1])
        case Sum(terms=terms):
            parts = [leading(t, variable, direction) for t in terms]
            kept = [p for p in parts if p is not None]
            if len(kept) != len(parts):
                return None
            degree = max(d for _, d in kept)
            total = tidy(add(*(c for c, d in kept if d == degree)))
            return None if is_zero(total) else (total, degree)
    if not isinstance(node, Product | Quotient | Power | Root):
        return None
    term = term_of(node)
    coefficient: Node = number(term.coefficient)
    degree = Fraction(0)
    for base, exponent in term.powers:
        found = leading(base, variable, direction)
        if found is None or not isinstance(exponent, Fraction) or (exponent.denominator % 2 == 0 and sign(found[0]) < 0):
            return None
        coefficient = tidy(multiply(coefficient, power(found[0], number(exponent))))
        degree += found[1] * exponent
    return coefficient, degree


def ratios(zeros: list[tuple[Node, Exponent]], infinities: list[tuple[Node, Exponent]]) -> list[tuple[Node, Node]]:
    """Indeterminate products as quotients 0/0 or ∞/∞: as written first, logarithms above."""

    def product(powers: list[tuple[Node, Exponent]]) -> Node:
        return join(Term(Fraction(1), tuple(powers)))

    above = [(b, e) for b, e in (*zeros, *infinities) if not (isinstance(e, Fraction) and e < 0)]
    below: list[tuple[Node, Exponent]] = [(b, -e) for b, e in (*zeros, *infinities) if isinstance(e, Fraction) and e < 0]
    found = []
    if above and below:
        found.append((product(above), product(below)))
    zero, large = product(zeros), product(infinities)
    found.append((large, tidy(divide(ONE, zero))))
    found.append((zero, tidy(divide(ONE, large))))
    return found
