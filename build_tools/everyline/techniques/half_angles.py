"""Fractions of trigonometric functions of one angle, written in the tangent of the half angle or of the angle itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from ..algebra.expand import split_constant
from ..algebra.fraction import one_fraction
from ..algebra.poly import linear
from ..algebra.tidy import tidy
from ..notation.build import ONE, TWO, add, call, divide, multiply, names, power, rebuild, subtract, walk
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Call, Integral, Name, Node
from .asking import constant_and_rest, depends, differentiate, fresh
from .base import Shown, Step

_WAVES = frozenset({"sin", "cos", "tan", "cot", "sec", "csc"})


def half(u: Node) -> tuple[Node, Node]:
    """sin A and cos A in u = tan(A/2) (DLMF 4.21.11-14 and common practice)."""
    square = power(u, 2)
    return divide(multiply(TWO, u), add(ONE, square)), divide(subtract(ONE, square), add(ONE, square))


def one_angle(node: Node, variable: str) -> Node | None:
    """The angle A, linear in the variable, where the variable is met in trigonometric functions of A alone."""
    found = {p.argument for p in walk(node) if isinstance(p, Call) and depends(p, variable)}
    if len(found) != 1 or any(p.function not in _WAVES for p in walk(node) if isinstance(p, Call) and depends(p, variable)):
        return None
    (angle,) = found
    apart = _swapped(node, angle, lambda f: Name("one"))
    return angle if linear(angle, variable) is not None and variable not in names(apart) else None


def _swapped(node: Node, angle: Node, value: Callable[[str], Node]) -> Node:
    if isinstance(node, Call) and node.argument == angle:
        return value(node.function)
    return rebuild(node, lambda part: _swapped(part, angle, value))


def written_in(node: Node, angle: Node, sine: Node, cosine: Node) -> Node:
    """Every function of the angle by its sine and cosine."""
    values: Mapping[str, Node] = MappingProxyType({
        "sin": sine, "cos": cosine, "tan": divide(sine, cosine), "cot": divide(cosine, sine), "sec": divide(ONE, cosine),
        "csc": divide(ONE, sine),
    })  # fmt: skip
    return _swapped(node, angle, lambda f: values[f])


def tangent_step(question: Question, technique: str, inside: Node, body: Node, per_du: Node, shown: tuple[Shown, ...], reason: Message
                 ) -> Step | None:  # fmt: skip
    """∫ body dx with u = tan(inside): `body` is in u, `per_du` is dx/du in u."""
    constant, _ = constant_and_rest(question)
    name = fresh(question)
    try:
        new = one_fraction(multiply(body, per_du), name)
    except ZeroDivisionError:
        return None
    if new is None:
        return None
    outer, inner = split_constant(tidy(multiply(constant, new)), name)
    tangent = call("tan", inside)
    before = (
        Shown("let", Name(name), tangent, say("Every function of the angle can be written in this tangent.")),
        Shown("differential", Name(name), differentiate(tangent, question.variable), say("Differentiate it.")),
        *shown,
    )
    return Step(technique, tidy(multiply(outer, Integral(inner, name))), reason, ((name, tangent),), before)
