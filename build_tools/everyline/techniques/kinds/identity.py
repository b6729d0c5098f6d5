"""A trigonometric (or hyperbolic) identity first: squares, double angles, products to sums, reciprocals, a conjugate factor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...algebra.tidy import tidy
from ...notation.build import ONE
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Node
from ..asking import constant_and_rest, integral
from ..base import Example, Shown, Step, Technique
from ..identities import in_product
from ..identities_sum import in_sum
from ..rewriting import Rewriting


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    seen: set[Node] = {rest}
    for r in _all(rest, question.variable):
        if r.new in seen:
            continue
        seen.add(r.new)
        reason = say("Use {identity}.", identity=r.rule) if r.rule is not None else say(r.text)
        detail = (Shown("equal", r.rule.left, r.rule.right),) if r.rule is not None else ()
        yield Step(
            "identity", integral(r.new, question.variable, constant if constant != ONE else None), reason, detail=detail, extra_cost=r.extra
        )


def _all(rest: Node, variable: str) -> Iterator[Rewriting]:
    for r in (*in_product(rest, variable), *in_sum(rest, variable)):
        try:
            yield Rewriting(tidy(r.new), r.rule, r.text, r.extra)
        except ZeroDivisionError:
            continue


TECHNIQUE = Technique(
    id="identity",
    title="Trigonometric identity first",
    cost=2.3,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \cos^2 3x \, dx"),
        Example(r"\int \cot^2 x \, dx"),
        Example(r"\int \sin 5x\cos 2x \, dx"),
        Example(r"\int \tan x \, dx"),
        Example(r"\int \frac{1}{1 + \cos x} \, dx"),
        Example(r"\int \frac{\sin 2x}{\cos x} \, dx"),
        Example(r"\int x^2 \, dx", applies=False),
        Example(r"\int e^x \, dx", applies=False),
    ),
    after=("table",),
    explains="An identity turns the integrand into standard forms or into something that substitution can do.",
)
