"""Taking answers apart: terms, coefficients, the insides of functions; and putting them together with one part changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..algebra.derivative import NotSupported, derivative
from ..notation.build import ONE, add, children, divide, multiply, names, negate, number, walk
from ..notation.tree import Absolute, Call, Name, Negative, Node, Number, Power, Product, Quotient, Root, Sum
from .corruptions import assemble

Change = Callable[[Node], Iterable[Node]]


@dataclass(frozen=True, slots=True)
class Term:
    """A term of an answer: as it counts (`tree`, with the factor of a bracket in front) and where it stands (`place`)."""

    tree: Node
    place: Node


def exact(node: Node) -> Fraction | None:
    """The value of a tree of rational numbers, sums, products and small whole powers; None for anything else."""
    match node:
        case Number(value=value):
            return value
        case Negative(argument=inner):
            value_ = exact(inner)
            return None if value_ is None else -value_
        case Sum() | Product():
            values = [exact(part) for part in children(node)]
            total = Fraction(0 if isinstance(node, Sum) else 1)
            for value_ in values:
                if value_ is None:
                    return None
                total = total + value_ if isinstance(node, Sum) else total * value_
            return total
        case Quotient(top=top, bottom=bottom):
            a, b = exact(top), exact(bottom)
            return None if a is None or not b else a / b
        case Power(base=base, exponent=exponent):
            a, n = exact(base), exact(exponent)
            if a and n is not None and n.denominator == 1 and abs(n) <= 64 and abs(a.numerator) < 10**6 and a.denominator < 10**6:
                return a ** int(n)
    return None


def terms(answer: Node, x: str) -> tuple[Term, ...]:
    """The terms that depend on `x`, brackets with a constant factor multiplied out."""
    return tuple(term for term in _split(answer, answer, x) if x in names(term.tree))


def constants(answer: Node, x: str) -> tuple[Node, ...]:
    """The terms that do not depend on `x`, such as the constant of integration."""
    return tuple(term.tree for term in _split(answer, answer, x) if x not in names(term.tree))


def _split(node: Node, place: Node, x: str) -> Iterator[Term]:
    match node:
        case Sum(terms=parts):
            for part in parts:
                yield from _split(part, part, x)
        case Negative(argument=inner) if _has_sum(inner):
            yield from (Term(negate(t.tree), t.place) for t in _split(inner, inner, x))
        case Quotient(top=top, bottom=bottom) if x not in names(bottom) and _has_sum(top):
            yield from (Term(divide(t.tree, bottom), t.place) for t in _split(top, top, x))
        case Product(factors=factors) if sum(x in names(f) for f in factors) == 1:
            (inner,) = (f for f in factors if x in names(f))
            if _has_sum(inner):
                front = multiply(*(f for f in factors if x not in names(f)))
                yield from (Term(multiply(front, t.tree), t.place) for t in _split(inner, inner, x))
            else:
                yield Term(node, place)
        case _:
            yield Term(node, place)


def _has_sum(node: Node) -> bool:
    """Whether a node is a sum, or one behind signs and constant factors."""
    match node:
        case Sum():
            return True
        case Negative(argument=inner) | Quotient(top=inner):
            return _has_sum(inner)
        case Product(factors=factors):
            return any(isinstance(f, Sum) for f in factors)
    return False


def coefficient(term: Node, x: str) -> tuple[Fraction, Node, Node]:
    """A term as (rational number, other constant factor, the rest)."""
    match term:
        case Negative(argument=inner):
            ratio, constant, core = coefficient(inner, x)
            return -ratio, constant, core
        case Product(factors=factors):
            ratio, constant, core = Fraction(1), ONE, ONE
            for factor in factors:
                r, c, part = coefficient(factor, x)
                ratio, constant, core = ratio * r, multiply(constant, c), multiply(core, part)
            return ratio, constant, core
        case Quotient(top=top, bottom=bottom):
            a, b = coefficient(top, x), coefficient(bottom, x)
            if b[0]:
                return a[0] / b[0], divide(a[1], b[1]), divide(a[2], b[2])
    if x in names(term):
        return Fraction(1), ONE, term
    value = exact(term)
    return (Fraction(1), term, ONE) if value is None else (value, ONE, ONE)


def term(ratio: Fraction, constant: Node, core: Node) -> Node:
    """A term from its parts, the number in front: `3 sin 2x / 4`, `2x / (5(x + 1))`."""
    if ratio == 0:
        return number(0)
    top, bottom = (core.top, core.bottom) if isinstance(core, Quotient) else (core, ONE)
    above, below = (constant.top, constant.bottom) if isinstance(constant, Quotient) else (constant, ONE)
    size = abs(ratio)
    made = divide(multiply(number(size.numerator), above, top), multiply(number(size.denominator), below, bottom))
    return negate(made) if ratio < 0 else made


def scale(tree: Node, factor: Node | Fraction | int, x: str) -> Node:
    """The term times a constant, its numbers multiplied out."""
    ratio, constant, core = coefficient(tree, x)
    if isinstance(factor, Node):
        r, c, _ = coefficient(factor, x)
        return term(ratio * r, multiply(constant, c), core)
    return term(ratio * factor, constant, core)


def slope(inside: Node, x: str) -> Node | None:
    """The derivative of a linear inside: a constant, as a plain number where it is one. None if it is not linear in `x`."""
    try:
        found = derivative(inside, x)
    except NotSupported:
        return None
    if x in names(found):
        return None
    value = exact(found)
    return found if value is None else number(value) if value else None


def insides(node: Node, x: str) -> Iterator[Node]:
    """What stands inside functions, brackets with a power, roots and exponents, when it is more than `x` alone."""
    found: tuple[Node, ...] = ()
    match node:
        case Call(argument=inner) | Root(radicand=inner) | Absolute(argument=inner):
            found = (inner,)
        case Power(base=base, exponent=exponent):
            found = (base, exponent)
        case Quotient(bottom=bottom):
            found = (bottom,)
    yield from (inner for inner in found if x in names(inner) and not isinstance(inner, Name | Absolute | Power | Product | Call | Root))
    yield from (inner for inner in found if isinstance(inner, Product) and slope(inner, x) is not None)
    for part in children(node):
        yield from insides(part, x)


def slopes(node: Node, x: str) -> tuple[Node, ...]:
    """The different constant slopes, other than one, of the linear insides of a term."""
    found: dict[Node, None] = {}
    for inner in insides(node, x):
        value = slope(inner, x)
        if value is not None and value != ONE:
            found[value] = None
    return tuple(found)


def with_one_term(answer: Node, x: str, change: Change) -> Iterator[Node]:
    """The answer with one of its terms changed, for every term and change; then, if it has several, with all changed alike."""
    parts = terms(answer, x)
    rest = constants(answer, x)
    trees = [part.tree for part in parts]
    alternatives = [tuple(change(tree)) for tree in trees]
    for place, options in enumerate(alternatives):
        for option in options:
            yield add(*trees[:place], option, *trees[place + 1 :], *rest)
    if len(trees) > 1 and all(alternatives):
        yield add(*(options[0] for options in alternatives), *rest)


def rewrites(node: Node, change: Change) -> Iterator[Node]:
    """The tree with `change` made at one place, for every place where it applies."""
    yield from change(node)
    parts = children(node)
    for place, part in enumerate(parts):
        for changed in rewrites(part, change):
            yield assemble(node, (*parts[:place], changed, *parts[place + 1 :]))


def rewritten(node: Node, change: Change) -> Node:
    """The tree with `change` (its first result) made at every place where it applies, from the inside out."""
    parts = children(node)
    changed = assemble(node, tuple(rewritten(part, change) for part in parts)) if parts else node
    return next(iter(change(changed)), changed)


def one_or_all(node: Node, change: Change) -> Iterator[Node]:
    """`rewrites`, and then all the places at once."""
    yield from rewrites(node, change)
    yield rewritten(node, change)


def has_call(node: Node, *functions: str) -> bool:
    return any(isinstance(part, Call) and part.function in functions for part in walk(node))
