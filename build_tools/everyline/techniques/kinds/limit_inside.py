"""A continuous function outside: the limit goes inside."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.tidy import tidy
from ...notation.build import infinite
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Call, Root
from ..base import Example, Step, Technique
from ..limiting import again, at_once, both, node_of
from .limit_value import against

_CONTINUOUS = frozenset({"sin", "cos", "tan", "arctan", "arcsin", "arccos", "sinh", "cosh", "tanh", "ln"})


def propose(question: Question) -> Iterable[Step]:
    body = tidy(question.body)
    node = node_of(question)
    if at_once(node) is not None and not against(node):
        return
    match body:
        case Call(function=f, argument=inside) if f in _CONTINUOUS:
            limit = again(question, inside)
            result: Call | Root = Call(f, limit)
        case Root(radicand=inside, index=index):
            limit = again(question, inside)
            result = Root(limit, index)
        case _:
            return
    value = both(limit)
    if value is not None and not infinite(value):
        yield Step("limit-inside", result, say("The function outside is continuous: take the limit of the inside."))


TECHNIQUE = Technique(
    id="limit-inside",
    title="Limit of the inside",
    cost=1.8,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 0^+} \tan(x^x)"),
        Example(r"\lim_{x \to 0} \cos\frac{\sin x}{x}"),
        Example(r"\lim_{x \to 3} \sqrt{\frac{x^2 - 9}{x - 3}}"),
        Example(r"\lim_{x \to 0} \cos x", applies=False),
        Example(r"\lim_{x \to 0} \frac{\sin x}{x}", applies=False),
    ),
    explains="If f is continuous at L and g tends to L, then f(g) tends to f(L).",
)
