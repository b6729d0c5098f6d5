"""(fg)′ = f′g: the other term of the product rule was forgotten."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import add
from ...notation.question import Question
from ...notation.tree import Node, Sum
from ..answers import terms
from ..base import Example, Slip, no_repairs
from ..twisted import Rules, product_term, twisted

_RULES = tuple(Rules(product=product_term(place)) for place in range(3))


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    yield from twisted(*_RULES)(question, right)
    parts = [part.tree for part in terms(right, question.variable)]
    if isinstance(question.body, Sum) or len(parts) < 2:
        return
    for place in range(len(parts)):
        yield add(*parts[:place], *parts[place + 1 :])


SLIP = Slip(
    id="product-term-forgotten",
    title="The other term of the product rule was forgotten",
    explains="The derivative of a product has a term for each factor, and one of them is missing.",
    hint="Each factor is differentiated once, with the others beside it.",
    kinds=("derivative",),
    rank=1,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\frac{d}{dx} (x^4 \sin x)", r"4x^3\sin x + x^4\cos x", r"4x^3\sin x"),
        Example(r"\frac{d}{dx} (e^{2x} \tan x)", r"2e^{2x}\tan x + e^{2x}\sec^2 x", r"e^{2x}\sec^2 x"),
    ),
    rules=_RULES,
)
