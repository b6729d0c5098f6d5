"""Arctangents of a tangent jump where the tangent does. The same function without its jumps.

For p > 0 and q² < 4p, with A the double of the angle of the tangent,

    arctan(p tan(A/2) + q) = A/2 + arctan(((p - 1) sin A + q (1 + cos A)) / (1 + p + q sin A + (1 - p) cos A))

up to a multiple of π between the jumps: take the tangent of the difference of arctan(pt + q) and A/2 (addition theorem,
DLMF 4.21.4). The denominator is 2 cos²(A/2) (1 + qt + pt²), which is positive, so the right side is continuous everywhere.
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd, lcm

from ..notation.build import ONE, TWO, add, call, divide, multiply, names, negate, number, rebuild, subtract, summands, walk
from ..notation.build import replace as put
from ..notation.tree import Call, Name, Node
from .expand import multiply_out
from .numbers import sign
from .poly import linear
from .terms import term_of
from .tidy import tidy


def unbroken(node: Node, variable: str) -> Node:
    """The node with every arctangent of a tangent that jumps written without jumps; the node itself where there is none."""
    if isinstance(node, Call) and node.function == "arctan":
        found = _without_jumps(node.argument, variable)
        return node if found is None else found
    return rebuild(node, lambda part: unbroken(part, variable))


def _without_jumps(argument: Node, variable: str) -> Node | None:
    tangents = {p for p in walk(argument) if isinstance(p, Call) and p.function == "tan" and linear(p.argument, variable) is not None}
    if len(tangents) != 1:
        return None
    (tangent,) = tangents
    letter = "t" if variable != "t" else "s"
    line = linear(multiply_out(put(argument, tangent, Name(letter))), letter)
    if line is None or variable in names(line[0]) | names(line[1]):
        return None
    p, q = line
    if sign(p) < 0:
        turned = _without_jumps(tidy(negate(argument)), variable)
        return None if turned is None else negate(turned)
    if sign(p) == 0 or sign(tidy(subtract(multiply(number(4), p), multiply(q, q)))) <= 0:
        return None
    half = tangent.argument
    whole = tidy(multiply(TWO, half))
    sine, cosine = call("sin", whole), call("cos", whole)
    top = tidy(add(multiply(subtract(p, ONE), sine), multiply(q, add(ONE, cosine))))
    bottom = tidy(add(ONE, p, multiply(q, sine), multiply(subtract(ONE, p), cosine)))
    return tidy(add(half, call("arctan", _whole(top, bottom))))


def _whole(top: Node, bottom: Node) -> Node:
    """top / bottom, both multiplied out, with whole numbers in them that share no factor."""
    top, bottom = multiply_out(top), multiply_out(bottom)
    sizes = [term_of(t).coefficient for part in (top, bottom) for t in summands(part)]
    below = lcm(*(c.denominator for c in sizes))
    scale = Fraction(below, gcd(*(int(c * below) for c in sizes)))
    return tidy(divide(multiply_out(multiply(number(scale), top)), multiply_out(multiply(number(scale), bottom))))
