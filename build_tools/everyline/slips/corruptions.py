"""Wrong keys made from right ones, the way that a hurried hand makes them: to show that the checker refutes every one.

Every corruption differs from its key by more than a constant (a quick floating-point look sees to it), so a checker that
lets one pass as an antiderivative, a derivative or a value is wrong.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..notation.build import (
    ONE,
    PI,
    TWO,
    ZERO,
    E,
    add,
    children,
    divide,
    multiply,
    names,
    negate,
    number,
    power,
    rational,
    rebuild,
    summands,
)  # fmt: skip
from ..notation.tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Diverges,
    DoesNotExist,
    Infinity,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)  # fmt: skip
from .floats import at

#: Functions that are mistaken for each other.
PARTNERS: dict[str, tuple[str, ...]] = {
    "sin": ("cos",), "cos": ("sin",), "tan": ("cot", "sec"), "cot": ("tan", "csc"), "sec": ("tan", "csc"), "csc": ("cot", "sec"),
    "arcsin": ("arccos", "arctan"), "arccos": ("arcsin", "arctan"), "arctan": ("arccot", "artanh"), "arccot": ("arctan",),
    "arcsec": ("arccsc",), "arccsc": ("arcsec",), "sinh": ("cosh", "sin"), "cosh": ("sinh", "cos"), "tanh": ("coth", "tan"),
    "coth": ("tanh",), "sech": ("csch",), "csch": ("sech",), "arsinh": ("arcosh", "arcsin"), "arcosh": ("arsinh",),
    "artanh": ("arctan",), "ln": ("exp",), "exp": ("ln",),
}  # fmt: skip

#: Irregular points, so that a coincidence at one of them is not one at the others; each window is looked at on its own.
WINDOWS: tuple[tuple[float, ...], ...] = (
    (-41.7, -23.1, -13.9, -7.3), (-5.27, -4.43, -3.61, -2.83), (-1.93, -1.67, -1.39, -1.13), (-0.91, -0.67, -0.41, -0.23),
    (-0.31, -0.19, -0.11, -0.07), (0.06, 0.13, 0.21, 0.29),
    (0.17, 0.37, 0.59, 0.83), (1.09, 1.31, 1.63, 1.87), (2.21, 2.93, 3.37, 4.79), (5.71, 8.3, 14.9, 33.7),
)  # fmt: skip

_OTHERS = (ZERO, ONE, negate(ONE), TWO, negate(TWO), number(Fraction(1, 2)), PI, E, number(3), divide(PI, TWO), number(10))


def corruptions(key: Node, variable: str | None = None) -> tuple[Node, ...]:
    """Different wrong keys made from `key`: signs, factors, exponents, dropped terms, swapped functions, inner arguments.

    `variable` is the question's (default: `x` if the key has it, else its first name); other names are parameters. At least
    ten for any key that has a variable or is a value other than a bare number. In a fixed order, those of the whole key first.
    """
    if isinstance(key, Infinity | Diverges | DoesNotExist) or (isinstance(key, Negative) and isinstance(key.argument, Infinity)):
        return tuple(other for other in _OTHERS if other != key)
    free = sorted(names(key))
    chosen = variable or ("x" if "x" in free or not free else free[0])
    parameters = [name for name in free if name != chosen]
    seen: dict[Node, None] = {}
    for candidate in (*_of_the_whole(key, Name(chosen), chosen in free), *mutations(key)):
        if candidate not in seen and differs(key, candidate, chosen, parameters):
            seen[candidate] = None
    return tuple(seen)


def differs(key: Node, other: Node, variable: str, parameters: list[str]) -> bool:
    """Whether the two differ by more than a constant, as far as floats show, and in no window seem to be the same."""
    fixed = {name: 1.37 + 0.71 * place for place, name in enumerate(parameters)}
    is_value = variable not in names(key)
    compared = False
    for window in WINDOWS:
        pairs = [(at(key, fixed | {variable: x}), at(other, fixed | {variable: x})) for x in window]
        defined = [(a, b) for a, b in pairs if a is not None and b is not None]
        if len(defined) < 3:
            continue
        gaps = [b - a for a, b in defined]
        size = 1e-3 + max(abs(a) + abs(b) for a, b in defined)
        spread = abs(gaps[0]) if is_value else max(gaps) - min(gaps)
        if spread > 1e-7 * size:
            compared = True
        elif spread <= 1e-13 * size and size < 1e8 and not _flat(defined):  # beside huge values a small term cannot be seen at all
            return False
    return compared


def _flat(pairs: list[tuple[float, float]]) -> bool:
    """Both sides constant to rounding (the tail of an arctangent, say): nothing can be told there."""
    return all(abs(side - first) <= 1e-6 * abs(first) + 1e-12 for first, *rest in zip(*pairs, strict=True) for side in rest)


def _of_the_whole(key: Node, variable: Name, depends: bool) -> Iterator[Node]:
    """Changes of all that stands before the constant of integration."""
    parts = summands(key)
    constants = tuple(part for part in parts if isinstance(part, ArbitraryConstant))
    before = add(*(part for part in parts if part not in constants))
    yield from (add(changed, *constants) for changed in _of_all_before(before, variable, depends))


def _of_all_before(key: Node, variable: Name, depends: bool) -> Iterator[Node]:
    yield negate(key)
    for factor in (TWO, number(Fraction(1, 2)), number(3), negate(TWO)):
        yield multiply(factor, key)
    if depends:
        yield add(key, variable)
        yield multiply(variable, key)
        yield divide(key, variable)
        yield add(key, power(variable, 2))
    else:
        yield add(key, ONE)
        yield add(key, negate(ONE))
        yield divide(ONE, key)


def mutations(node: Node) -> Iterator[Node]:
    """The tree with one change at one place, for every place and every kind of change; right by chance now and then."""
    yield from _local(node)
    parts = children(node)
    for place, part in enumerate(parts):
        for changed in mutations(part):
            yield assemble(node, (*parts[:place], changed, *parts[place + 1 :]))


def assemble(node: Node, parts: tuple[Node, ...]) -> Node:
    """A node like `node` made of other parts, kept to the conventions of the tree (flat sums, signs in front)."""
    match node:
        case Sum():
            return add(*parts)
        case Product():
            return multiply(*parts)
        case Negative():
            return negate(parts[0])
        case Quotient():
            return divide(parts[0], parts[1])
        case Power():
            return power(parts[0], parts[1])
    supply = iter(parts)
    return rebuild(node, lambda _: next(supply))


def _local(node: Node) -> Iterator[Node]:
    match node:
        case Sum(terms=terms):
            yield from _of_terms(terms)
        case Product(factors=factors):
            for place in range(len(factors)):
                yield multiply(*factors[:place], *factors[place + 1 :])
        case Negative(argument=inner):
            yield inner
        case Quotient(top=top, bottom=bottom):
            yield from (top, multiply(top, bottom), divide(bottom, top))
        case Power(base=base, exponent=exponent):
            yield from (power(base, add_one(exponent, 1)), power(base, add_one(exponent, -1)), base, power(base, negate(exponent)))
        case Root(radicand=radicand, index=index):
            yield from (Root(radicand, index + 1), radicand, divide(ONE, node))
        case Call(function=function, argument=argument):
            yield from (Call(partner, argument) for partner in PARTNERS.get(function, ()))
            yield from (Call(function, changed) for changed in _of_an_argument(argument))
        case Absolute(argument=argument):
            yield from (Absolute(changed) for changed in _of_an_argument(argument))
        case Number(value=value):
            yield from (number(value + 1), number(value - 1), number(value * 2))
        case Constant():
            yield from (TWO, multiply(TWO, node))
        case Name():
            yield from (multiply(TWO, node), power(node, 2), add(node, ONE))


def _of_terms(terms: tuple[Node, ...]) -> Iterator[Node]:
    for place, term in enumerate(terms):
        before, after = terms[:place], terms[place + 1 :]
        if isinstance(term, ArbitraryConstant):
            continue
        yield add(*before, negate(term), *after)
        yield add(*before, *after)
        yield add(*before, multiply(TWO, term), *after)
        yield add(*before, multiply(number(Fraction(1, 2)), term), *after)


def _of_an_argument(argument: Node) -> Iterator[Node]:
    yield from (negate(argument), multiply(TWO, argument), multiply(number(Fraction(1, 2)), argument), add(argument, ONE))


def add_one(exponent: Node, step: int) -> Node:
    """The exponent one higher or lower, as a plain number where it is one."""
    value = rational(exponent)
    return add(exponent, number(step)) if value is None else number(value + step)
