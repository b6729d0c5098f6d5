"""Which expressions are plainly positive, or nowhere negative, for every real value of their names."""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import rational
from ..notation.tree import Absolute, Call, Constant, Node, Number, Power, Product, Quotient, Root, Sum
from .terms import Term, term_of


def positive(node: Node) -> bool:
    """Whether the node is plainly positive for every real value of its names (False: not plainly)."""
    match node:
        case Number(value=value):
            return value > 0
        case Constant():
            return True
        case Power(base=base, exponent=exponent):
            return positive(base) and rational(exponent) != 0
        case Call(function="exp" | "cosh" | "sech"):
            return True
        case Product(factors=factors):
            return all(positive(f) for f in factors)
        case Quotient(top=top, bottom=bottom):
            return positive(top) and positive(bottom)
        case Root(radicand=radicand):
            return positive(radicand)
        case Sum(terms=terms):
            return _positive_sum(terms)
    return False


def nonnegative(node: Node) -> bool:
    """Whether the node is plainly nowhere negative where it is defined."""
    match node:
        case Power(exponent=exponent):
            value = rational(exponent)
            return positive(node) or (value is not None and (value.numerator % 2 == 0 or value.denominator % 2 == 0))
        case Root(index=index) if index % 2 == 0:
            return True
        case Absolute():
            return True
        case Product(factors=factors):
            return all(nonnegative(f) for f in factors)
        case Quotient(top=top, bottom=bottom):
            return nonnegative(top) and nonnegative(bottom)
        case Sum(terms=terms):
            return all(nonnegative(t) for t in terms)
        case Number():
            return True
    return positive(node)


def _positive_sum(terms: tuple[Node, ...]) -> bool:
    if all(nonnegative(t) for t in terms):
        return any(positive(t) for t in terms)
    # a quadratic (in any inside) without real zeros
    constant = Fraction(0)
    squares: list[Term] = []
    others: list[Term] = []
    for t in terms:
        value = rational(t)
        if value is not None:
            constant += value
        else:
            parts = term_of(t)
            if len(parts.powers) != 1 or not isinstance(parts.powers[0][1], Fraction):
                return False
            (squares if parts.powers[0][1] % 2 == 0 else others).append(parts)
    if len(squares) != 1 or len(others) != 1:
        return _bounded_sum(terms)
    a, b = squares[0], others[0]
    (base, e), (base_b, e_b) = a.powers[0], b.powers[0]
    if base != base_b or not isinstance(e, Fraction) or not isinstance(e_b, Fraction) or e != 2 * e_b:
        return False
    return bool(a.coefficient > 0 and b.coefficient**2 < 4 * a.coefficient * constant)


def _bounded_sum(terms: tuple[Node, ...]) -> bool:
    """`2 + sin x` is positive: the constant outweighs sines and cosines."""
    least = Fraction(0)
    for t in terms:
        value = rational(t)
        if value is not None:
            least += value
            continue
        parts = term_of(t)
        if len(parts.powers) != 1 or not isinstance(parts.powers[0][0], Call) or parts.powers[0][0].function not in ("sin", "cos"):
            return False
        least -= abs(parts.coefficient)
    return least > 0
