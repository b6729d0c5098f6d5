"""Numbers in place of a family's letters, written as a teacher writes them: no `1x`, no `+ -3`, the shape of the line kept.

Only the parts of a tree that held a letter are touched. Among constants everything is worked out; beside the variable nothing is
multiplied out or put in another order, except that a leading minus gives way to a term without one.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ..algebra import tidy
from ..notation.build import (
    ONE,
    ZERO,
    add,
    children,
    contains,
    divide,
    multiplicands,
    multiply,
    names,
    negate,
    number,
    power,
    rational,
    rebuild,
    summands,
    walk,
)
from ..notation.tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Derivative,
    Evaluation,
    Inequality,
    Infinity,
    Integral,
    Interval,
    Limit,
    Name,
    Negative,
    Node,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Union,
)

_STRUCTURE = (Integral, Derivative, Limit, Evaluation, Inequality, Interval, Union, Infinity, ArbitraryConstant)
#: A whole power of a number is worked out up to this size.
_LARGEST_POWER = 10_000


def neat(node: Node, values: Mapping[str, Node]) -> Node:
    """The tree with numbers for letters.

    Raises:
        ZeroDivisionError: something is divided by zero for these numbers.
    """
    if not _letters(node) & values.keys():
        return node
    if isinstance(node, Name):
        return values[node.name]
    inside = rebuild(node, lambda part: neat(part, values))
    if not _letters(inside) and not contains(inside, _STRUCTURE):
        return tidy(_worked(inside))
    match inside:
        case Negative(argument=inner):
            return negate(inner)
        case Sum(terms=terms):
            leads = isinstance(node, Sum) and isinstance(node.terms[0], Negative)
            return _sum(terms, leads)
        case Product(factors=factors):
            return _product(factors)
        case Quotient(top=top, bottom=bottom):
            return _quotient(top, bottom)
    return _worked(inside)


def _letters(node: Node) -> frozenset[str]:
    """Every name in a tree, bound or free: an integral's own variable is not a constant inside it."""
    return names(node) | frozenset({node.variable} if isinstance(node, Integral | Derivative | Limit | Evaluation) else ())


def _worked(node: Node) -> Node:
    if isinstance(node, Power):
        base, exponent = rational(node.base), rational(node.exponent)
        if exponent == 0 and base == 0:
            raise ZeroDivisionError
        if exponent is not None and exponent.denominator == 1 and base is not None:
            if base == 0 and exponent < 0:
                raise ZeroDivisionError
            if max(abs(base.numerator), base.denominator) ** min(abs(int(exponent)), 60) <= _LARGEST_POWER:
                return number(Fraction(base ** int(exponent)))
        return ONE if base == 1 else power(node.base, node.exponent)
    if isinstance(node, Quotient) and node.bottom == ZERO:
        raise ZeroDivisionError
    return node


def _sum(terms: tuple[Node, ...], leads: bool) -> Node:
    """Zeros dropped, numbers put together where the first of them stands, a plus at the front if there is one."""
    flat = add(*terms)
    parts = summands(flat)
    numbers = [value for part in parts if (value := rational(part)) is not None]
    if len(numbers) > 1:
        place = next(i for i, part in enumerate(parts) if rational(part) is not None)
        total = number(sum(numbers, Fraction(0)))
        parts = tuple(total if i == place else part for i, part in enumerate(parts) if i == place or rational(part) is None)
    if not leads and len(parts) > 1 and isinstance(parts[0], Negative):
        first = next((i for i, part in enumerate(parts) if not isinstance(part, Negative | ArbitraryConstant)), 0)
        parts = (parts[first], *parts[:first], *parts[first + 1 :])
    return add(*parts)


def _product(factors: tuple[Node, ...]) -> Node:
    """One number in front; where a fraction follows, it goes above or below the line of it."""
    whole = multiply(*factors)
    if isinstance(whole, Negative):
        return negate(_product((whole.argument,)))
    if not isinstance(whole, Product):
        return whole
    value, rest = _split(whole)
    fraction = next((i for i, part in enumerate(rest) if isinstance(part, Quotient) and not _fixed(part)), None)
    if fraction is None:
        return multiply(number(value), *rest)
    inner = rest[fraction]
    assert isinstance(inner, Quotient)
    scaled = _quotient(_product((number(value.numerator), inner.top)), _product((number(value.denominator), inner.bottom)))
    return multiply(*rest[:fraction], scaled, *rest[fraction + 1 :])


def _quotient(top: Node, bottom: Node) -> Node:
    """Signs in front, common factors of the numbers above and below cancelled, nothing over 1."""
    if bottom == ZERO:
        raise ZeroDivisionError
    if top == ZERO:
        return ZERO
    if isinstance(top, Negative):
        return negate(_quotient(top.argument, bottom))
    if isinstance(bottom, Negative):
        return negate(_quotient(top, bottom.argument))
    (a, above), (b, below) = _split(top), _split(bottom)
    share = a / b
    return divide(multiply(number(share.numerator), *above), multiply(number(share.denominator), *below))


def _split(node: Node) -> tuple[Fraction, tuple[Node, ...]]:
    """The number in front of a product and its other factors."""
    value = Fraction(1)
    rest: list[Node] = []
    for part in multiplicands(node):
        found = rational(part)
        if found is None:
            rest.append(part)
        else:
            value *= found
    return value, tuple(rest)


def _fixed(node: Node) -> bool:
    return not names(node)


def skeleton(node: Node, variable: str) -> object:
    """What is left of a formula when its numbers are wiped out: two instances of one family have the same."""
    if isinstance(node, ArbitraryConstant):
        return "constant"
    if variable not in _letters(node):
        return "number"
    match node:
        case Negative(argument=inner):
            return skeleton(inner, variable)
        case Product(factors=factors):
            kept = [skeleton(f, variable) for f in factors if variable in names(f)]
            return kept[0] if len(kept) == 1 else ("product", *sorted(kept, key=repr))
        case Quotient(top=top, bottom=bottom) if variable not in names(bottom):
            return skeleton(top, variable)
        case Sum(terms=terms):
            moving = sorted((skeleton(t, variable) for t in terms if variable in names(t)), key=repr)
            still = sorted({str(skeleton(t, variable)) for t in terms if variable not in names(t)})
            return ("sum", *moving, *still)
        case Name():
            return "variable"
    return (type(node).__name__, getattr(node, "function", ""), *(skeleton(part, variable) for part in children(node)))


def distinct(node: Node, variable: str) -> int:
    """How many different sums, functions, roots and powers of the variable stand in a formula: fewer when two of them coincide."""
    return len({part for part in walk(node) if isinstance(part, Sum | Call | Root | Absolute | Power) and variable in names(part)})
