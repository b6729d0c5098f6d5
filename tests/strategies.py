"""Hypothesis strategies that any room can use: every tree that the notation can write."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from everyline.notation.tree import (
    FUNCTIONS,
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Derivative,
    Equation,
    Evaluation,
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
)

VARIABLES = ("x", "t", "theta", "x_1", "u")
PARAMETERS = ("a", "b", "n", "omega", "c_2", "s", "i", "p")
NAMES = frozenset(VARIABLES + PARAMETERS)

whole_numbers = st.integers(0, 130).map(lambda n: Number(Fraction(n)))
decimals = st.builds(lambda n, places: Number(Fraction(n, 10**places), places), st.integers(0, 5_000), st.integers(1, 3))
letters = st.sampled_from(VARIABLES + PARAMETERS).map(Name)
constants = st.sampled_from((Constant("pi"), Constant("e")))
leaves = st.one_of(letters, whole_numbers, letters, constants, decimals, st.just(ArbitraryConstant("C")), st.just(Infinity()))


def _several(parts: st.SearchStrategy[Node]) -> st.SearchStrategy[tuple[Node, ...]]:
    return st.lists(parts, min_size=2, max_size=4).map(tuple)


def _larger(parts: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    return st.one_of(
        _several(parts).map(Sum),
        _several(parts).map(Product),
        parts.map(Negative),
        st.builds(Quotient, parts, parts),
        st.builds(Power, parts, parts),
        st.builds(Power, parts, whole_numbers),
        st.builds(Call, st.sampled_from(FUNCTIONS), parts),
        st.builds(lambda f, a, n: Power(Call(f, a), n), st.sampled_from(("sin", "ln", "arctan")), parts, whole_numbers),
        st.builds(Root, parts, st.integers(2, 9)),
        parts.map(Absolute),
        st.builds(Logarithm, st.one_of(whole_numbers, letters), parts),
    )


#: Any expression without calculus in it, also ones that nobody would write: signs under signs, sums in sums.
expressions: st.SearchStrategy[Node] = st.recursive(leaves, _larger, max_leaves=14)


def _calculus(parts: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    variables = st.sampled_from(VARIABLES)
    return st.one_of(
        st.builds(Integral, parts, variables),
        st.builds(Integral, parts, variables, parts, parts),
        st.builds(Derivative, parts, variables, st.integers(1, 4)),
        st.builds(Limit, parts, variables, parts, st.sampled_from(("", "+", "-"))),
        st.builds(Evaluation, parts, variables, parts, parts),
    )


#: Expressions in which integrals, derivatives, limits and evaluation bars stand anywhere.
with_calculus: st.SearchStrategy[Node] = st.recursive(
    st.one_of(leaves, expressions), lambda parts: st.one_of(_larger(parts), _calculus(parts)), max_leaves=5
)
#: What a whole line can say.
formulas: st.SearchStrategy[Node] = st.one_of(expressions, with_calculus, st.builds(Equation, with_calculus, with_calculus))
