"""Two lines laid side by side: the part of the first that became another in the second."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ..notation.build import ONE, ZERO, add, children, multiply, negate
from ..notation.tree import Derivative, Evaluation, Integral, Limit, Negative, Node, Product, Sum

Rebuild = Callable[[Node], Node]


def changed(before: Node, after: Node) -> tuple[Node, Node, Rebuild]:
    """What of a line was worked out, what became of it, and the second line with something else in its place."""
    if isinstance(before, Sum) and isinstance(after, Sum):
        return _among(before.terms, after.terms, add, ZERO, (before, after))
    if isinstance(before, Product) and isinstance(after, Product):
        return _among(before.factors, after.factors, multiply, ONE, (before, after))
    if isinstance(before, Negative) and isinstance(after, Negative):
        return _within(before.argument, after.argument, negate)
    ours, theirs = _inside(before), _inside(after)
    if ours is not None and theirs is not None:
        (old, around), (new, outside) = ours, theirs
        if around(new) == after and not _calculus(old) and not _calculus(new):
            return _within(old, new, outside)
    return before, after, lambda new: new


def _inside(node: Node) -> tuple[Node, Rebuild] | None:
    """What an integral, a derivative, a limit or a bracket is taken of."""
    match node:
        case Integral(integrand=inner):
            return inner, lambda new: replace(node, integrand=new)
        case Derivative(body=inner) | Limit(body=inner) | Evaluation(body=inner):
            return inner, lambda new: replace(node, body=new)
    return None


def _within(before: Node, after: Node, outside: Rebuild) -> tuple[Node, Node, Rebuild]:
    part, result, inside = changed(before, after)
    return part, result, lambda new: outside(inside(new))


def _calculus(node: Node) -> bool:
    return isinstance(node, Integral | Derivative | Limit | Evaluation) or any(_calculus(part) for part in children(node))


def _among(
    ours: tuple[Node, ...], theirs: tuple[Node, ...], join: Callable[..., Node], empty: Node, whole: tuple[Node, Node]
) -> tuple[Node, Node, Rebuild]:
    """Terms or factors: those that both lines have are left aside."""
    left, kept = list(theirs), []
    for each in ours:
        if each in left:
            left.remove(each)
            kept.append(each)
    mine = [each for each in ours if each not in kept]
    if not kept or not mine or not left:
        return *whole, lambda new: new
    place = theirs.index(left[0])
    head = [each for each in theirs[:place] if each in kept]
    tail = [each for each in theirs[place:] if each in kept]
    return _within(join(*mine), join(*left), lambda new: join(*head, new, *tail))
