"""An improper integral is the limit of integrals between ends that can be put in."""

from __future__ import annotations

from collections.abc import Iterator

from ..algebra.numbers import infinite
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Integral
from .base import Example, Step, Technique
from .brackets import Bracket, bracket, plain_at
from .simple import simple_antiderivative


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
    return say("{x} = {point} cannot be put in: stop short of it and take the limit.", x=limit.variable, point=limit.point)


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
