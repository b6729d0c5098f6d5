"""What the kernel is asked about a step, and about the lines that stand before it."""

from __future__ import annotations

from ..kernel import Equal, IntegralValue, SameDerivative, Setting
from ..notation.build import contains, walk
from ..notation.question import Question
from ..notation.tree import Diverges, DoesNotExist, Evaluation, Integral, Limit, Node
from ..techniques import Step
from ..techniques.limiting import settled
from .tails import tails


def step_claim(question: Question, step: Step) -> SameDerivative | Equal | IntegralValue | None:
    """That the question equals the step's result; for a limit, that it has the value which the result comes to."""
    setting = Setting(question.variable, question.domain, question.given, step.bindings)
    node = question.node
    if isinstance(node, Integral):
        if node.lower is None or node.upper is None:
            return SameDerivative(node, step.result, setting)
        return value_claim(node, step.result, setting)
    if isinstance(node, Limit):
        value = settled(step.result)
        return None if value is None else Equal(node, value, setting)
    return Equal(node, step.result, setting)


def value_claim(node: Integral, result: Node, setting: Setting, certificate: Node | None = None) -> Equal | IntegralValue:
    """∫ₐᵇ f = result: another integral, or a value with the antiderivative that a bracket in it shows, or with bounds far out."""
    assert node.lower is not None
    assert node.upper is not None
    if contains(result, Integral):
        return Equal(node, result, setting)
    found = certificate or next((p.body for p in walk(result) if isinstance(p, Evaluation)), None)
    return IntegralValue(node.integrand, node.lower, node.upper, result, setting, found or tails(node))


def line_claim(left: Node, right: Node, setting: Setting) -> Equal | IntegralValue:
    """left = right, where the left side may be a limit or an integral between limits and the right side may be no number."""
    if isinstance(left, Integral) and left.lower is not None and left.upper is not None and isinstance(right, Diverges | DoesNotExist):
        return IntegralValue(left.integrand, left.lower, left.upper, right, setting)
    return Equal(left, right, setting)
