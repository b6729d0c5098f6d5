"""An antiderivative used across a point where the integrand is not bounded."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import substitute, subtract
from ...notation.question import Question
from ...notation.tree import Diverges, Evaluation, Node
from ..base import Example, Slip
from ..floats import at


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    """The antiderivative's difference where there is a finite one. (Where that is right, it is no slip, and nobody asks.)"""
    if isinstance(right, Evaluation):
        found = subtract(*(substitute(right.body, {right.variable: end}) for end in (right.upper, right.lower)))
        if at(found, {}) is not None:
            yield found


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    if not isinstance(claimed, Diverges):
        yield Diverges()


SLIP = Slip(
    id="pole-ignored",
    title="A point where the integrand is unbounded was ignored",
    explains="Between the limits the integrand grows without bound, so the antiderivative may not be used straight across.",
    hint="Is the integrand continuous everywhere between the limits?",
    kinds=("definite",),
    rank=1,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int_{-2}^2 \frac{1}{x^4} \, dx", r"diverges", r"-\frac{1}{12}", r"-\frac{1}{3x^3}"),
        Example(r"\int_0^6 \frac{1}{(x - 3)^2} \, dx", r"diverges", r"-\frac{2}{3}", r"-\frac{1}{x - 3}"),
    ),
)
