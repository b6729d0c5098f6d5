"""Tidying changes how an expression is written and never what it is, wherever it has a value."""

from __future__ import annotations

from fractions import Fraction

import mpmath
import numeric
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from everyline.algebra import tidy
from everyline.notation import Context, parse, plain
from everyline.notation.tree import Absolute, Call, Constant, Name, Negative, Node, Number, Power, Product, Quotient, Root, Sum

fractions = st.builds(lambda p, q: Number(Fraction(p, q)), st.integers(0, 12), st.integers(1, 6))
leaves: st.SearchStrategy[Node] = st.one_of(
    st.sampled_from((Name("x"), Name("a"), Constant("pi"), Constant("e"))), fractions, st.integers(0, 12).map(lambda n: Number(Fraction(n)))
)


def _larger(parts: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    several = st.lists(parts, min_size=2, max_size=4).map(tuple)
    exponents = st.one_of(st.integers(-4, 4).map(lambda n: Number(Fraction(n)) if n >= 0 else Negative(Number(Fraction(-n)))), fractions)
    return st.one_of(
        several.map(Sum),
        several.map(Product),
        parts.map(Negative),
        st.builds(Quotient, parts, parts),
        st.builds(Power, parts, st.one_of(exponents, parts)),
        st.builds(Root, parts, st.integers(2, 4)),
        st.builds(Call, st.sampled_from(("sin", "cos", "tan", "sec", "ln", "exp", "arctan", "arcsin", "sinh", "sgn")), parts),
        parts.map(Absolute),
    )


POINTS = [{"x": mpmath.mpf(x), "a": mpmath.mpf(a)} for x, a in (("0.71", "1.3"), ("-2.3", "0.45"), ("3.6", "-1.7"))]


def values(node: Node) -> list[mpmath.mpf | None]:
    return [_value(node, at) for at in POINTS]


def _value(node: Node, at: dict[str, mpmath.mpf]) -> mpmath.mpf | None:
    try:
        found = numeric.value(node, at)
    except (ValueError, ZeroDivisionError, OverflowError):
        return None
    return found if mpmath.isfinite(found) and abs(found) < mpmath.mpf(10) ** 30 else None


@given(st.recursive(leaves, _larger, max_leaves=10))
@example(parse("sqrt(2)*e^2*sqrt(pi)/3", Context()))  # a factor of it was lost
@settings(max_examples=200, deadline=None)
def test_tidying_keeps_every_value(node: Node) -> None:
    with mpmath.workdps(60):
        before = values(node)
        assume(any(v is not None for v in before))
        try:
            after = tidy(node)
        except ZeroDivisionError:  # a part of it has no value anywhere
            return
        for was, now in zip(before, values(after), strict=True):
            if was is not None:
                assert now is not None, plain(after)
                assert mpmath.almosteq(was, now, rel_eps=mpmath.mpf(10) ** -25, abs_eps=mpmath.mpf(10) ** -25), plain(after)
