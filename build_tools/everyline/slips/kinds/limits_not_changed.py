"""u put in place of x, but the old limits kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...notation.build import names, negate, replace, substitute, subtract, walk
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Evaluation, Name, Node, Power, Root
from ..base import Example, Slip, no_repairs


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    if not isinstance(right, Evaluation):
        return
    x = right.variable
    for in_u in _in_a_new_variable(right.body, x):
        ends = [substitute(in_u, {"u": end}) for end in (right.upper, right.lower)]
        yield subtract(*ends)
        yield negate(subtract(*ends))


def _in_a_new_variable(body: Node, x: str) -> Iterator[Node]:
    """The antiderivative with u in place of an inside on which alone it depends."""
    for inside in dict.fromkeys(inner for part in walk(body) for inner in _insides(part)):
        changed = replace(body, inside, Name("u"))
        if inside != Name(x) and x not in names(changed):
            yield changed


def _insides(node: Node) -> tuple[Node, ...]:
    match node:
        case Call(argument=inner) | Root(radicand=inner) | Absolute(argument=inner):
            return (inner,)
        case Power(base=base, exponent=exponent):
            return (base, exponent)
    return ()


SLIP = Slip(
    id="limits-not-changed",
    title="The limits were not changed with the substitution",
    explains="After the substitution the antiderivative was taken between the old limits, not between those for the new variable.",
    hint="What is u at the lower limit, and what at the upper one?",
    kinds=("definite",),
    rank=2,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\int_1^2 6(3x + 1)^2 \, dx", r"186", r"\frac{14}{3}", r"\frac{2(3x + 1)^3}{3}", repairable=False),
        Example(r"\int_2^5 \frac{1}{x - 1} \, dx", r"\ln 4", r"\ln 5 - \ln 2", r"\ln|x - 1|", repairable=False),
    ),
)
