"""An improper integral is the limit of integrals between ends that can be put in."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ...algebra.limits import tends
from ...algebra.numbers import number_of
from ...algebra.zeros import zeros_between
from ...notation.build import add, infinite, walk
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Integral, Name, Node, Quotient
from ..base import Example, Step, Technique
from ..brackets import Bracket, bracket, plain_at, turned
from ..simple import simple_antiderivative


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None:
        return
    primitive = simple_antiderivative(node.integrand, node.variable)
    if primitive is None or not improper(node):
        return
    found = bracket(node, primitive)
    if found.limits:
        yield Step("improper", found.shown, reason(found))


def inside(question: Question) -> Step | None:
    """A split at every place between the limits near which the integrand has no bound."""
    node = question.node
    assert isinstance(node, Integral)
    places = poles(node)
    if not places:
        return None
    assert node.lower is not None
    assert node.upper is not None
    ends = pairwise((node.lower, *places, node.upper))
    pieces = add(*(Integral(node.integrand, node.variable, low, high) for low, high in ends))
    reason = say("{x} = {point} lies between the limits and cannot be put in: split there.", x=Name(node.variable), point=places[0])
    return Step("improper", pieces, reason)


def poles(node: Integral) -> list[Node]:
    """The places between the limits near which the integrand has no bound, from left to right."""
    x, low, high = node.variable, node.lower, node.upper
    assert low is not None
    assert high is not None
    if turned(low, high):
        return []
    found: list[Node] = []
    for part in suspects(node.integrand):
        found += [z for z in zeros_between(part, x, low, high) or [] if z not in found and not plain_at(node.integrand, x, z)]
    endless = [z for z in found if any(infinite(tends(node.integrand, x, z, side)) for side in (-1, 1))]
    return sorted(endless, key=lambda z: float(number_of(z) or 0))


def suspects(tree: Node) -> Iterator[Node]:
    """What stands below a bar, in a logarithm, or below the bar of a tangent and its like: at its zeros there may be no value."""
    for part in dict.fromkeys(walk(tree)):
        match part:
            case Quotient(bottom=below):
                yield below
            case Call(function="tan" | "sec", argument=angle):
                yield Call("cos", angle)
            case Call(function="cot" | "csc", argument=angle):
                yield Call("sin", angle)
            case Call(function="ln", argument=Absolute(argument=below)) | Call(function="ln", argument=below):
                yield below


def improper(node: Integral) -> bool:
    """Whether an end is infinite or outside of where the integrand is defined."""
    assert node.lower is not None
    assert node.upper is not None
    return not (plain_at(node.integrand, node.variable, node.lower) and plain_at(node.integrand, node.variable, node.upper))


def reason(found: Bracket) -> Message:
    if not found.limits:
        return say("Use the antiderivative between the limits.")
    if len(found.limits) == 2:
        return say("Neither end can be put in: take the limit of the antiderivative at each.")
    (limit,) = found.limits
    if infinite(limit.point):
        return say("The interval has no end there: stop at a number and let it grow without bound.")
    return say("{x} = {point} cannot be put in: stop short of it and take the limit.", x=Name(limit.variable), point=limit.point)


TECHNIQUE = Technique(
    id="improper",
    title="Improper integral as a limit",
    cost=1.0,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_1^\infty \frac{1}{x^3} \, dx"),
        Example(r"\int_0^4 \frac{1}{\sqrt{x}} \, dx"),
        Example(r"\int_{-\infty}^0 e^{2x} \, dx"),
        Example(r"\int_1^3 \frac{1}{x^2} \, dx", applies=False),
        Example(r"\int_0^1 x^2 \, dx", applies=False),
    ),
    explains="An infinite end, or an end where the integrand is not defined, is approached: the integral is the limit of proper ones.",
)
