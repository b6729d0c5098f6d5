"""The exponents that the power rule may have left in a term."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..notation.build import children, names
from ..notation.tree import Negative, Node, Power, Product, Quotient, Root, Sum
from .integrals import as_power


def exponents(term: Node, x: str) -> tuple[Fraction, ...]:
    """The rational exponents (other than 0 and 1) of the powers and roots of a term, insides left alone; below a line with a minus."""
    return tuple(dict.fromkeys(p for p in _exponents(term, x, 1) if p not in (0, 1) and (p != -1 or _is_reciprocal(term, x))))


def _is_reciprocal(term: Node, x: str) -> bool:
    """c/u and nothing else: only there can the factor -1 be that of the power rule."""
    inner = term.argument if isinstance(term, Negative) else term
    return isinstance(inner, Quotient) and x not in names(inner.top)


def _exponents(node: Node, x: str, sign: int) -> Iterator[Fraction]:
    if isinstance(node, Quotient) and x in names(node.bottom):
        yield from _exponents(node.top, x, sign)
        yield from _exponents(node.bottom, x, -sign)
        exponent = as_power(node.bottom)[1]
        if exponent == 1:
            yield Fraction(-sign)
        return
    if isinstance(node, Power | Root):
        exponent = as_power(node)[1]
        if exponent is not None and x in names(node):
            yield sign * exponent
    elif isinstance(node, Negative | Product | Quotient | Sum):
        for part in children(node):
            yield from _exponents(part, x, sign)
