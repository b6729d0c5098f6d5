"""Leading terms compared the wrong way up."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import ONE, divide, number
from ...notation.question import Question
from ...notation.tree import Diverges, DoesNotExist, Infinity, Negative, Node
from ..answers import exact
from ..base import Example, Slip


def change(question: Question, answer: Node) -> Iterable[Node]:
    inner = answer.argument if isinstance(answer, Negative) else answer
    value = exact(answer)
    if isinstance(inner, Infinity):
        yield number(0)
    elif value is not None and value:
        yield number(1 / value)
    elif value is None and not isinstance(answer, Diverges | DoesNotExist):
        yield divide(ONE, answer)


SLIP = Slip(
    id="ratio-inverted",
    title="The ratio is upside down",
    explains="The ratio of the leading terms is the wrong way up: the top's goes above.",
    hint="Which coefficient belongs to the top?",
    kinds=("limit",),
    rank=2,
    leads_to=change,
    repairs=change,
    examples=(
        Example(r"\lim_{x \to \infty} \frac{4x^2 + x}{3x^2 - 8}", r"\frac{4}{3}", r"\frac{3}{4}"),
        Example(r"\lim_{x \to 0} \frac{\sin 8x}{3x}", r"\frac{8}{3}", r"\frac{3}{8}"),
    ),
)
