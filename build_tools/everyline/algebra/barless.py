"""Where a function is defined at all, some of its parts can only be positive: bars around them are not needed there.

ln x and √x are met for x > 0 alone, so that an antiderivative beside them holds ln x, not ln|x|.
"""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import E, divide, names, number, power, rational, rebuild, substitute, subtract, walk
from ..notation.tree import Absolute, Call, Infinity, Integral, Interval, Logarithm, Name, Negative, Node, Power, Root
from .poly import linear
from .signs import positive
from .terms import term_of
from .tidy import tidy

_LETTER = "positive"


def never_negative(body: Node, variable: str) -> tuple[Node, ...]:
    """What is nowhere negative where the body is defined: what stands under even roots, in logarithms and in inverse functions."""
    found: dict[Node, None] = {}
    for part in walk(body):
        inside: Node | None = None
        match part:
            case Call(function="ln", argument=argument) | Logarithm(argument=argument):
                inside = argument
            case Root(radicand=radicand, index=index) if index % 2 == 0:
                inside = radicand
            case Power(base=base, exponent=exponent) if (e := rational(exponent)) is not None and e.denominator % 2 == 0:
                inside = base
            case Call(function="arcsin" | "arccos" | "artanh", argument=argument):
                inside = tidy(subtract(number(1), power(argument, 2)))
            case Call(function="arcosh", argument=argument):
                inside = argument
        if inside is not None and variable in names(inside):
            found.setdefault(_odd(tidy(inside)))
    return tuple(found)


def _odd(node: Node) -> Node:
    """x for 4x³ and √x: what has the same sign."""
    term = term_of(node)
    if len(term.powers) == 1 and term.coefficient > 0:
        base, exponent = term.powers[0]
        if isinstance(exponent, Fraction) and exponent > 0 and exponent.numerator % 2 == 1:
            return base
    return node


def half_line(known: tuple[Node, ...], variable: str) -> Interval | None:
    """The half-line that the lines among what is never negative leave: (c, ∞) where ax + b is one and a > 0."""
    for node in known:
        line = linear(node, variable)
        a, b = (rational(line[0]), rational(line[1])) if line is not None else (None, None)
        if a is not None and b is not None:
            zero = number(-b / a)
            return Interval(zero, Infinity()) if a > 0 else Interval(Negative(Infinity()), zero)
    return None


def without_bars(node: Node, known: tuple[Node, ...], variable: str) -> Node:
    """The node without bars around what is positive in view of what is known; open integrals are left as they stand."""
    if not known or isinstance(node, Integral):
        return node
    if isinstance(node, Absolute) and _positive(node.argument, known, variable):
        return node.argument
    return rebuild(node, lambda part: without_bars(part, known, variable))


def _positive(node: Node, known: tuple[Node, ...], variable: str) -> bool:
    if variable not in names(node):
        return False
    if node in known:
        return True
    shifted = power(E, Name(_LETTER))
    for other in known:
        line = linear(other, variable)
        if line is not None and positive(tidy(substitute(node, {variable: divide(subtract(shifted, line[1]), line[0])}))):
            return True
    return False
