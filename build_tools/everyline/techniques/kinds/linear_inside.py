"""A linear inside in one line: integrate the outside and divide by the constant derivative of the inside."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.tidy import tidy
from ...notation.build import ONE, multiply
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Derivative, Node
from ..asking import constant_and_rest, depends, differentiate, insides, integrand
from ..base import Example, Shown, Step, Technique
from ..forms import linear_form


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    found = linear_form(rest, question.variable)
    if found is None:
        return
    whole, inner, slope, _ = found
    reason = _reason(inner, slope)
    detail = (Shown("equal", Derivative(inner, question.variable), slope, say("Differentiate the inside.")),)
    yield Step("linear-inside", tidy(multiply(constant, whole)), reason, detail=detail)


def _reason(inside: Node, slope: Node) -> Message:
    if slope == ONE:  # nobody divides by 1
        return say("The inside {inside} has the derivative 1: integrate the outside.", inside=inside)
    return say(
        "The inside {inside} is linear: integrate the outside and divide by {slope}, the derivative of the inside.",
        inside=inside,
        slope=slope,
    )


def refuses(question: Question) -> Message | None:
    """Which inside is not linear: there is no dividing by a derivative that is not a constant."""
    x = question.variable
    for inner in insides(integrand(question), x):
        slope = differentiate(inner, x)
        if depends(slope, x):
            return say(
                "The derivative of {inside} is {slope}, which is not a constant: it cannot be divided by.", inside=inner, slope=slope
            )
    return None


TECHNIQUE = Technique(
    id="linear-inside",
    title="Linear inside",
    cost=1.6,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \cos(5x - 2) \, dx"),
        Example(r"\int (4 - 3x)^6 \, dx"),
        Example(r"\int \frac{1}{2x + 9} \, dx"),
        Example(r"\int e^{-x/4} \, dx"),
        Example(r"\int \cos(x^2) \, dx", applies=False),
        Example(r"\int e^{x^2 + 1} \, dx", applies=False),
        Example(r"\int x\cos 2x \, dx", applies=False),
    ),
    after=("table",),
    refuses=refuses,
    explains="Only where the derivative of the inside is a constant: divide by it.",
)
