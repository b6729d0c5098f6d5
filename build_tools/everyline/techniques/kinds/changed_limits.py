"""Substitution in an integral between limits: the limits go over to the new letter, and nothing has to be put back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace as replace_fields

from ...algebra.limits import tends
from ...algebra.tidy import tidy
from ...notation.build import ONE, infinite, names, rebuild, replace, substitute, walk
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Integral, Limit, Name, Node
from ..base import Example, Shown, Step, Technique
from ..brackets import plain_at, turned
from . import linear_substitution, rationalising, substitution, tangent_half_angle, tangent_substitution, trigonometric_substitution

#: The substitutions whose limits can be changed.
METHODS = tuple(
    m.TECHNIQUE
    for m in (
        substitution, linear_substitution, rationalising, trigonometric_substitution, tangent_half_angle, tangent_substitution,
    )
)  # fmt: skip


def propose(question: Question) -> Iterable[Step]:
    yield from changed(question, frozenset(m.id for m in METHODS))


def changed(question: Question, methods: frozenset[str]) -> Iterator[Step]:
    """The substitutions by these methods, each with its new limits."""
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None:
        return
    plain = Question(Integral(node.integrand, node.variable), question.given, question.domain)
    for method in METHODS:
        for step in method.propose(plain) if method.id in methods else ():
            moved = _moved(node, step)
            if moved is not None:
                yield moved


def _moved(node: Integral, step: Step) -> Step | None:
    assert node.lower is not None
    assert node.upper is not None
    ((name, inside),) = step.bindings
    back = turned(node.lower, node.upper)
    low = _end(inside, node.variable, node.lower, -1 if back else 1)
    high = _end(inside, node.variable, node.upper, 1 if back else -1)
    if low is None or high is None or low == high:
        return None
    parts = [p for p in _integrals(step.result) if p.variable == name]
    if len(parts) != 1 or _standing(name, step.result, parts[0]):
        return None
    inner = Integral(parts[0].integrand, name, low, high)
    sides = ("-", "+") if back else ("+", "-")
    limits = (
        new_limit(name, inside, node.variable, node.lower, low, sides[0]),
        new_limit(name, inside, node.variable, node.upper, high, sides[1]),
    )
    result = inner if step.result == parts[0] else tidy(replace(step.result, parts[0], inner))
    reason = say("Everything is written in {name}, the limits too.", name=Name(name))
    own = (replace_fields(shown, reason=shown.reason or step.reason) if shown.kind == "equal" else shown for shown in step.before)
    before, cost = (*own, *limits), step.extra_cost
    if not step.through:
        return Step("changed-limits", result, reason, step.bindings, before, extra_cost=cost)
    through = ((_between(step.through[0][0], name, low, high), reason),)
    return Step("changed-limits", result, step.reason, step.bindings, before, extra_cost=cost, through=through)


def _between(node: Node, name: str, low: Node, high: Node) -> Node:
    """The same with limits on its integral in the new letter."""
    if isinstance(node, Integral) and node.variable == name:
        return Integral(node.integrand, name, low, high)
    return rebuild(node, lambda part: _between(part, name, low, high))


def _end(inside: Node, variable: str, end: Node, side: int) -> Node | None:
    if plain_at(inside, variable, end):
        return tidy(substitute(inside, {variable: end}))
    return tends(inside, variable, end, side)


def new_limit(name: str, inside: Node, variable: str, end: Node, value: Node, side: str) -> Shown:
    """φ(a) = the new limit."""
    reason = say("{x} = {end} becomes {name} = {value}.", x=Name(variable), end=end, name=Name(name), value=value)
    if plain_at(inside, variable, end):
        return Shown("equal", substitute(inside, {variable: end}), value, reason)
    return Shown("equal", Limit(inside, variable, end, "" if infinite(end) else side), value, reason)


def _integrals(node: Node) -> Iterator[Integral]:
    yield from (p for p in walk(node) if isinstance(p, Integral))


def _standing(name: str, whole: Node, part: Integral) -> bool:
    """Whether the new letter stands outside of the integral."""
    return name in names(replace(whole, part, ONE))


TECHNIQUE = Technique(
    id="changed-limits",
    title="Substitution with changed limits",
    cost=2.5,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_0^2 x\,e^{x^2} \, dx"),
        Example(r"\int_0^{\pi/2} \sin^3 x\cos x \, dx"),
        Example(r"\int_0^4 \frac{1}{1 + \sqrt{x}} \, dx"),
        Example(r"\int_0^3 \sqrt{9 - x^2} \, dx"),
        Example(r"\int_0^1 x\,e^x \, dx", applies=False),
        Example(r"\int_0^1 (x^2 + 1) \, dx", applies=False),
    ),
    after=("substitution",),
    explains="When x runs from a to b, u runs from φ(a) to φ(b): integrate in u between these.",
)
