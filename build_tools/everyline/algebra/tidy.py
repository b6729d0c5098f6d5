"""Tidying as a teacher does without a word: like terms, like powers, signs in front, plain cancelling. No algebra system."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from ..notation.build import ONE, ZERO, E, divide, multiply, names, negate, number, rational, rebuild
from ..notation.tree import (
    Absolute,
    Call,
    Constant,
    Derivative,
    Equation,
    Evaluation,
    Inequality,
    Infinity,
    Integral,
    Limit,
    Logarithm,
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
from .clock import watch
from .numbers import sign
from .order import factor_rank, text
from .signs import positive
from .terms import Exponent, Term, as_node, term_of
from .values import special

_CLOSED = (Integral, Derivative, Limit, Evaluation)
_ODD = {"sin", "tan", "csc", "cot", "arcsin", "arctan", "sinh", "tanh", "csch", "coth", "arsinh", "artanh"}
_EVEN = {"cos", "sec", "cosh", "sech"}
_INVERSE = {"sin": "arcsin", "cos": "arccos", "tan": "arctan", "sec": "arcsec", "sinh": "arsinh", "tanh": "artanh", "exp": "ln"}


@lru_cache(maxsize=20_000)
def tidy(node: Node) -> Node:
    """The same value, written neatly. Open integrals, derivatives and limits inside are left as they stand."""
    watch()
    match node:
        case Name() | Constant() | Infinity():
            return node
        case Number():
            return number(node.value)
        case Negative(argument=argument):
            return negate(tidy(argument)) if not isinstance(tidy(argument), Sum) else tidy(Sum((node, ZERO)))
        case Sum(terms=terms):
            return _tidy_sum(terms)
        case Product() | Quotient() | Power() | Root() | Call(function="exp"):
            return join(term_of(node))
        case Absolute(argument=argument):
            return _tidy_absolute(tidy(argument))
        case Call(function=function, argument=argument):
            return _tidy_call(function, tidy(argument))
        case Logarithm(base=base, argument=argument):
            return tidy(Call("ln", argument)) if tidy(base) == E else Logarithm(tidy(base), tidy(argument))
        case Equation() | Inequality():
            return rebuild(node, tidy)
    return node


def _tidy_sum(terms: tuple[Node, ...]) -> Node:
    found: dict[tuple[tuple[Node, Exponent], ...], tuple[Fraction, Term]] = {}
    stack = list(terms)[::-1]
    while stack:
        term = stack.pop()
        if isinstance(term, Sum):
            stack += term.terms[::-1]
            continue
        if isinstance(term, Negative) and isinstance(term.argument, Sum):
            stack += [negate(t) for t in term.argument.terms[::-1]]
            continue
        parts = term_of(term)
        if len(parts.powers) == 1 and isinstance(parts.powers[0][0], Sum) and parts.powers[0][1] == 1 and abs(parts.coefficient) == 1:
            inside = parts.powers[0][0]
            assert isinstance(inside, Sum)
            stack += [t if parts.coefficient > 0 else negate(t) for t in inside.terms[::-1]]
            continue
        key = tuple(sorted(parts.powers, key=lambda p: text(p[0])))
        so_far = found.get(key, (Fraction(0), parts))
        found[key] = (so_far[0] + parts.coefficient, so_far[1])
    joined = [join(Term(c, t.powers)) for c, t in found.values() if c]
    if not joined:
        return ZERO
    if (
        len(joined) == 2
        and isinstance(joined[0], Negative)
        and isinstance(joined[1], Number | Constant | Quotient)
        and rational(joined[1]) is not None
    ):
        joined.reverse()  # 1 - x rather than -x + 1
    return joined[0] if len(joined) == 1 else Sum(tuple(joined))


def _tidy_absolute(argument: Node) -> Node:
    value = rational(argument)
    if value is not None:
        return number(abs(value))
    if isinstance(argument, Negative):
        return _tidy_absolute(argument.argument)
    if isinstance(argument, Absolute) or positive(argument):
        return argument
    if not names(argument) and (known := sign(argument)):
        return argument if known > 0 else negate(argument)
    if isinstance(argument, Product | Quotient):
        parts = term_of(argument)
        if parts.coefficient not in (1, -1):
            return multiply(number(abs(parts.coefficient)), Absolute(join(Term(Fraction(1), parts.powers))))
    return Absolute(argument)


def _tidy_call(function: str, argument: Node) -> Node:
    if isinstance(argument, Negative):
        if function in _ODD:
            return negate(_tidy_call(function, argument.argument))
        if function in _EVEN:
            return _tidy_call(function, argument.argument)
    elif isinstance(argument, Sum) and function in _ODD | _EVEN and all(isinstance(t, Negative) for t in argument.terms):
        turned = _tidy_call(function, Sum(tuple(negate(t) for t in argument.terms)))
        return negate(turned) if function in _ODD else turned
    if isinstance(argument, Call) and _INVERSE.get(function) == argument.function:
        return argument.argument
    if function == "ln" and isinstance(argument, Power) and argument.base == E:
        return argument.exponent
    if not names(argument):
        if function == "sgn" and (way := sign(argument)):
            return number(way)
        known = special(function, argument)
        if known is not None:
            return known
    return Call(function, argument)


# --- writing a term down -------------------------------------------------------------------------------------------


def join(term: Term) -> Node:
    """A term as it is written: number, constants, letters, functions; one fraction bar; a plain fraction in front of functions."""
    if term.coefficient == 0:
        return ZERO
    size = abs(term.coefficient)
    top: list[tuple[Node, Exponent]] = []
    bottom: list[tuple[Node, Exponent]] = []
    closed: list[Node] = []
    below: list[Node] = []
    for base, exponent in term.powers:
        if isinstance(base, _CLOSED) and isinstance(exponent, Fraction) and exponent < 0:
            below.append(_powered(base, -exponent))
        elif isinstance(base, _CLOSED):
            closed.append(_powered(base, exponent))
        elif isinstance(exponent, Fraction) and exponent < 0:
            bottom.append((base, -exponent))
        else:
            top.append((base, exponent))
    result = _fraction(size, _one_root(sorted(top, key=_rank)), _one_root(sorted(bottom, key=_rank)))
    if closed:
        result = multiply(result, *closed)
    if below:
        result = divide(result, multiply(*below))
    return negate(result) if term.coefficient < 0 else result


def _rank(power: tuple[Node, Exponent]) -> tuple[int, int, str]:
    return factor_rank(power[0], power[1])


def _one_root(powers: list[tuple[Node, Exponent]]) -> list[tuple[Node, Exponent]]:
    """√2·√π is written √(2π)."""
    under = [p for p in powers if p[1] == Fraction(1, 2) and _fixed(p[0])]
    if len(under) < 2:
        return powers
    kept = [p for p in powers if p not in under]
    return [(multiply(*(base for base, _ in under)), Fraction(1, 2)), *kept]


def _fixed(base: Node) -> bool:
    """Whether a base belongs to the number in front."""
    return isinstance(base, Number | Constant | Product) and base != E and not names(base)


def _in_front(base: Node, exponent: Exponent) -> bool:
    """Whether a power belongs to the number in front: √3, but not 3ˣ."""
    return isinstance(exponent, Fraction) and _fixed(base)


def _fraction(size: Fraction, top: list[tuple[Node, Exponent]], bottom: list[tuple[Node, Exponent]]) -> Node:
    above = [_powered(b, e) for b, e in top]
    p, q = number(size.numerator), number(size.denominator)
    if bottom and not _apart(top, bottom):
        below = _lower(q, bottom)
        return _quotient(multiply(p, *above), below)
    fixed, moving = [_powered(b, e) for b, e in top if _in_front(b, e)], [(b, e) for b, e in top if not _in_front(b, e)]
    rest = [_powered(b, e) for b, e in moving]
    if not bottom and size.denominator == 1:
        return multiply(p, *above)
    front = _quotient(multiply(p, *fixed), _lower(q, bottom))
    if not rest:
        return front
    if front_is_plain(size, fixed) and _simple(moving, bottom):
        return _quotient(multiply(*rest), _lower(q, bottom))
    return Product((front, *rest))


def front_is_plain(size: Fraction, fixed: list[Node]) -> bool:
    return size.numerator == 1 and not fixed


def _quotient(top: Node, bottom: Node) -> Node:
    return top if bottom == ONE else Quotient(top, bottom)


def _lower(q: Node, bottom: list[tuple[Node, Exponent]]) -> Node:
    return multiply(q, *(_powered(b, e) for b, e in bottom))


def _apart(top: list[tuple[Node, Exponent]], bottom: list[tuple[Node, Exponent]]) -> bool:
    """Whether what stands below is a constant beside what stands above: `(1/π) sin πx`, but `sin x / x`."""
    if not top:
        return False
    if any(isinstance(b, Number) and not isinstance(e, Fraction) for b, e in top) and not any(isinstance(b, Call) for b, _ in top):
        return False  # x·2ˣ/ln 2
    upper = frozenset().union(*(names(b) | (names(e) if isinstance(e, Node) else frozenset()) for b, e in top))
    for base, _ in bottom:
        if isinstance(base, Sum | Absolute) or (names(base) and (names(base) & upper or not upper or not isinstance(base, Name))):
            return False
    # letters below stay with the letters above unless a function stands there: x²/a, but (1/a) ln|ax + b|
    return any(isinstance(b, Call) for b, _ in top) or not any(names(b) for b, _ in bottom)


def _simple(rest: list[tuple[Node, Exponent]], bottom: list[tuple[Node, Exponent]]) -> bool:
    """One thing that sits well on a fraction bar: a power of a letter, an exponential, a product of letters."""
    if all(isinstance(b, Name) and isinstance(e, Fraction) and e.denominator == 1 for b, e in rest):
        return True
    return len(rest) == 1 and (not isinstance(rest[0][1], Fraction) or rest[0][0] == E or (isinstance(rest[0][0], Sum) and rest[0][1] == 1))


def _powered(base: Node, exponent: Exponent) -> Node:
    if isinstance(exponent, Fraction):
        if exponent == 1:
            return base
        if exponent.numerator == 1:
            return Root(base, exponent.denominator)
    return Power(base, as_node(exponent))
