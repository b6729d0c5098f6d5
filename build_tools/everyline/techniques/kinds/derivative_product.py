"""The product rule."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.expand import multiply_out, split_constant
from ...algebra.terms import as_node, term_of
from ...notation.build import add, multiply, names, power
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Derivative, Node, Product, Sum
from ..base import Example, Step, Technique

#: How many terms a product may have when it is multiplied out before it is differentiated.
SHORT = 4


def factors(body: Node, variable: str) -> list[Node]:
    """The factors that hold the variable, as written; the constant ones with the first of them."""
    if not isinstance(body, Product):
        return []
    moving = [f for f in body.factors if variable in names(f)]
    return moving


def propose(question: Question) -> Iterable[Step]:
    x = question.variable
    constant, rest = split_constant(question.body, x)
    term = term_of(rest)
    if len(term.powers) < 2 or any(e == -1 or str(e).startswith("-") for _, e in term.powers):
        return
    parts = factors(rest, x) or [power(b, as_node(e)) for b, e in term.powers]
    first, second = parts[0], multiply(*parts[1:])
    result = add(
        multiply(constant, Derivative(first, x), second),
        multiply(constant, first, Derivative(second, x)),
    )
    yield Step("derivative-product", result, say("Product rule: each factor is differentiated in its turn."))
    out = multiply_out(rest, x)
    if isinstance(out, Sum) and out != rest and all(not isinstance(b, Sum) for t in out.terms for b, _ in term_of(t).powers):
        yield Step(
            "derivative-product",
            multiply(constant, Derivative(out, x)),
            say("Multiply out first."),
            extra_cost=1.0 if len(out.terms) <= SHORT else 4.0,
        )


TECHNIQUE = Technique(
    id="derivative-product",
    title="Product rule",
    cost=2.0,
    kinds=("derivative",),
    propose=propose,
    examples=(
        Example(r"\frac{d}{dx}(x^2\sin x)"),
        Example(r"\frac{d}{dx}\bigl((x + 1)e^x\bigr)"),
        Example(r"\frac{d}{dx}(3x)", applies=False),
        Example(r"\frac{d}{dx}\frac{\sin x}{x}", applies=False),
    ),
    explains="(fg)' = f'g + fg'.",
)
