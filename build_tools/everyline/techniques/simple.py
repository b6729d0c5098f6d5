"""A small antiderivative for use inside a technique (the v of dv): term by term, table, linear inside, an obvious substitution."""

from __future__ import annotations

from functools import lru_cache

from ..algebra.cancel import cancelled
from ..algebra.expand import split_constant
from ..algebra.poly import linear
from ..algebra.rewrite import express
from ..algebra.tidy import tidy
from ..notation.build import add, multiply, names, number, substitute
from ..notation.tree import Node, Sum
from .asking import differentiate, insides
from .forms import linear_form, standard


@lru_cache(maxsize=2_000)
def simple_antiderivative(node: Node, variable: str) -> Node | None:
    """An antiderivative that a student writes down at once, or None."""
    if isinstance(node, Sum):
        parts = [simple_antiderivative(t, variable) for t in node.terms]
        found = [p for p in parts if p is not None]
        return tidy(add(*found)) if len(found) == len(parts) else None
    constant, rest = split_constant(node, variable)
    found_one = standard(rest, variable)
    if found_one is None:
        line = linear_form(rest, variable)
        found_one = line[0] if line is not None else _substituted(rest, variable)
    return None if found_one is None else tidy(multiply(constant, found_one))


def _substituted(rest: Node, variable: str) -> Node | None:
    name = next(letter for letter in "uvw" if letter != variable and letter not in names(rest))
    for inner in insides(rest, variable):
        if linear(inner, variable) is not None:
            continue
        slope = differentiate(inner, variable)
        if slope == number(0):
            continue
        inside_form = express(cancelled(rest, slope, variable), variable, inner, name)
        if inside_form is None:
            continue
        constant, form = split_constant(inside_form, name)
        found = standard(form, name)
        if found is not None:
            return tidy(multiply(constant, substitute(found, {name: inner})))
    return None
