"""A sum whose terms are powers in disguise, written so that the power rule can be read off."""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import add, multiply, names, negate, number, rational, summands
from ..notation.tree import Name, Negative, Node, Power, Product, Quotient
from .terms import term_of
from .tidy import join


def as_powers(node: Node, variable: str) -> Node:
    """4/∛x as 4x^(-1/3), x√x as x^(3/2), term by term. What is a power already stays as it is written, and so does 1/x."""
    terms = summands(node)
    written = tuple(_as_power(term, variable) for term in terms)
    return node if written == terms else add(*written)


def _as_power(term: Node, variable: str) -> Node:
    if variable not in names(term) or _is_written(term, variable):
        return term
    if isinstance(term, Negative):
        return negate(_as_power(term.argument, variable))
    if isinstance(term, Product):
        still = [factor for factor in term.factors if variable not in names(factor)]
        if still:  # 1.5√t stays 1.5 times a power
            rest = multiply(*(factor for factor in term.factors if variable in names(factor)))
            return multiply(*still, _as_power(rest, variable))
    found = term_of(term)
    moving = [(base, exponent) for base, exponent in found.powers if variable in names(base) or not isinstance(exponent, Fraction)]
    if len(moving) != 1 or moving[0][0] != Name(variable):
        return term
    exponent = moving[0][1]
    if not isinstance(exponent, Fraction) or exponent in (-1, 0):
        return term
    x = Name(variable)
    constant = found.without(x)
    return multiply(join(constant), x if exponent == 1 else Power(x, number(exponent)))


def _is_written(node: Node, variable: str) -> bool:
    """Whether a term is a constant times the variable or one power of it, as it stands."""
    match node:
        case Negative(argument=inner):
            return _is_written(inner, variable)
        case Quotient(top=top, bottom=bottom):
            return variable not in names(bottom) and _is_written(top, variable)
        case Product(factors=factors):
            moving = [factor for factor in factors if variable in names(factor)]
            return len(moving) == 1 and _is_written(moving[0], variable)
        case Power(base=base, exponent=exponent):
            return base == Name(variable) and rational(exponent) is not None
    return node == Name(variable)
