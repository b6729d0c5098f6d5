"""∫ dx/x = ln x: right for x > 0 only."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import rational
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Node
from ..answers import one_or_all
from ..base import Example, Slip


def _bare(node: Node) -> Iterable[Node]:
    if isinstance(node, Call) and node.function == "ln" and isinstance(node.argument, Absolute):
        yield Call("ln", node.argument.argument)


def _barred(node: Node) -> Iterable[Node]:
    if isinstance(node, Call) and node.function == "ln" and not isinstance(node.argument, Absolute) and rational(node.argument) is None:
        yield Call("ln", Absolute(node.argument))


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    return one_or_all(right, _bare)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    return one_or_all(claimed, _barred)


SLIP = Slip(
    id="absolute-value-missing",
    title="The absolute value is missing in the logarithm",
    explains="At {fault} the logarithm has no value where its inside is negative, but the integrand has one: the bars are missing.",
    hint="Where is the integrand defined, and where is your answer?",
    kinds=("indefinite",),
    rank=1,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int \frac{1}{x + 6} \, dx", r"\ln|x + 6| + C", r"\ln(x + 6) + C"),
        Example(
            r"\int \frac{1}{x} - \frac{3}{x - 5} \, dx",
            r"\ln|x| - 3\ln|x - 5| + C",
            r"\ln x - 3\ln(x - 5) + C",
        ),
    ),
)
