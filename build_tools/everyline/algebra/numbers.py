"""Constants as numbers: balls around them, their signs, and the two infinities that limits have as values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from math import prod

from flint import arb, ctx

from ..notation.build import ZERO, infinite, names, rational, substitute
from ..notation.tree import Absolute, Call, Constant, Infinity, Negative, Node, Number, Power, Product, Quotient, Root, Sum

INFINITY = Infinity()
MINUS = Negative(INFINITY)
#: FLINT's names of functions where they are not ours.
_FLINTS = {
    "ln": "log", "arctan": "atan", "arcsin": "asin", "arccos": "acos", "arsinh": "asinh", "arcosh": "acosh", "artanh": "atanh",
}  # fmt: skip


#: What the letters of a question may stand for: signs of what holds them are those that all these choices agree in.
_LETTERS: ContextVar[tuple[Mapping[str, Node], ...]] = ContextVar("letters", default=())


@contextmanager
def letters(choices: tuple[Mapping[str, Node], ...]) -> Iterator[None]:
    """Within this block letters may stand for these numbers; what is concluded is proposed, and proved for the letters."""
    token = _LETTERS.set(choices)
    try:
        yield
    finally:
        _LETTERS.reset(token)


def sign(node: Node) -> int:
    """The sign of a constant, by balls; 0 where it is zero or cannot be told."""
    if names(node):
        senses = {sign(substitute(node, choice)) for choice in _LETTERS.get() if names(node) <= choice.keys()}
        return senses.pop() if len(senses) == 1 else 0
    if infinite(node):
        return infinite(node)
    value = rational(node)
    if value is not None:
        return (value > 0) - (value < 0)
    found = number_of(node)
    return 0 if found is None else 1 if found > 0 else -1 if found < 0 else 0


def number_of(node: Node) -> arb | None:
    """A ball around a constant, or None."""
    saved = ctx.prec
    try:
        ctx.prec = 128
        return _ball(node)
    except (ValueError, KeyError, ZeroDivisionError):
        return None
    finally:
        ctx.prec = saved


def _ball(node: Node) -> arb:
    match node:
        case Number(value=v):
            return arb(v.numerator) / v.denominator
        case Constant(name="pi"):
            return arb.pi()
        case Constant():
            return arb(1).exp()
        case Negative(argument=a):
            return -_ball(a)
        case Sum(terms=ts):
            return sum((_ball(t) for t in ts), arb(0))
        case Product(factors=fs):
            return prod((_ball(f) for f in fs), start=arb(1))
        case Quotient(top=a, bottom=b):
            return _ball(a) / _ball(b)
        case Power(base=b, exponent=e):
            return _ball(b) ** _ball(e)
        case Root(radicand=a, index=n):
            return _ball(a).root(n)
        case Absolute(argument=a):
            return abs(_ball(a))
        case Call(function=f, argument=a):
            return _called(f, _ball(a))
    raise KeyError


def _called(function: str, x: arb) -> arb:
    if function in ("arcsec", "arccsc"):
        return arb((1 / x).acos() if function == "arcsec" else (1 / x).asin())
    if function == "arccot":
        return arb.pi() / 2 - arb(x.atan())
    found = getattr(x, _FLINTS.get(function, function), None)
    if found is None:
        raise KeyError(function)
    return arb(found())


def is_zero(node: Node) -> bool:
    return node == ZERO or (rational(node) is None and not names(node) and sign(node) == 0)
