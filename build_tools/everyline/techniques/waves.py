"""Integrands read as powers of trigonometric functions of one angle, times something else."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..algebra.terms import Term, term_of
from ..algebra.tidy import join
from ..notation.build import call, multiply, number, power
from ..notation.tree import Call, Node
from .asking import depends

SIX = ("sin", "cos", "tan", "cot", "sec", "csc")


@dataclass(frozen=True, slots=True)
class Waves:
    """`rest` times the product of function(angle)^exponent."""

    angle: Node
    exponents: dict[str, Fraction]
    rest: Term

    def get(self, function: str) -> Fraction:
        return self.exponents.get(function, Fraction(0))

    def of(self, function: str) -> Node:
        return call(function, self.angle)

    def raised(self, function: str, exponent: Fraction | int) -> Node:
        return power(self.of(function), number(Fraction(exponent)))

    def only(self, *functions: str) -> bool:
        return set(self.exponents) <= set(functions)

    def with_rest(self, *factors: Node) -> Node:
        return multiply(join(self.rest), *factors)


def waves(node: Node, variable: str) -> list[Waves]:
    """One reading for each angle, in the order met."""
    term = term_of(node)
    angles: dict[Node, dict[str, Fraction]] = {}
    for base, exponent in term.powers:
        if isinstance(base, Call) and base.function in SIX and isinstance(exponent, Fraction) and depends(base, variable):
            angles.setdefault(base.argument, {})[base.function] = exponent
    found = []
    for angle, exponents in angles.items():
        rest = term.without(*(call(f, angle) for f in exponents))
        found.append(Waves(angle, exponents, rest))
    return found


def whole(value: Fraction) -> bool:
    return value.denominator == 1
