"""F(a) - F(b): the limits of a definite integral the wrong way round."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import negate
from ...notation.question import Question
from ...notation.tree import Diverges, Evaluation, Node
from ..base import Example, Slip


def change(question: Question, answer: Node) -> Iterable[Node]:
    if not isinstance(answer, Evaluation | Diverges):
        yield negate(answer)


SLIP = Slip(
    id="limits-swapped",
    title="The limits were swapped",
    explains="The value has the wrong sign: it is the antiderivative at the upper limit less that at the lower one.",
    hint="Which limit is put in first?",
    kinds=("definite",),
    rank=2,
    leads_to=change,
    repairs=change,
    examples=(
        Example(r"\int_1^3 4x^3 \, dx", r"80", r"-80"),
        Example(r"\int_0^{\pi/3} \cos x \, dx", r"\frac{\sqrt{3}}{2}", r"-\frac{\sqrt{3}}{2}"),
    ),
)
