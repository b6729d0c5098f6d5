"""The fundamental theorem: an antiderivative at the upper limit less its value at the lower one."""

from __future__ import annotations

from collections.abc import Iterator

from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Integral
from ..base import Example, Step, Technique
from ..brackets import bracket
from ..simple import simple_antiderivative


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None:
        return
    primitive = simple_antiderivative(node.integrand, node.variable)
    if primitive is None:
        return
    found = bracket(node, primitive)
    if not found.limits:
        yield Step("evaluation", found.shown, say("Use the antiderivative between the limits."))


TECHNIQUE = Technique(
    id="evaluation",
    title="Antiderivative between the limits",
    cost=1.0,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_1^3 (2x - 5) \, dx"),
        Example(r"\int_0^{\pi/2} \cos x \, dx"),
        Example(r"\int_1^\infty \frac{1}{x^3} \, dx", applies=False),
    ),
    after=("power",),
    explains="If F is an antiderivative of f on the whole interval, the integral from a to b is F(b) - F(a).",
)
