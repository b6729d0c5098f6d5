"""∫ x cos x dx = (x²/2) sin x: a product integrated factor by factor."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import multiply, names
from ...notation.question import Question
from ...notation.tree import Node
from ..answers import coefficient, scale
from ..base import Example, Slip, no_repairs
from ..integrals import antiderivative, x_factors


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    x = question.variable
    factors = x_factors(question.body, x)
    parts = [antiderivative(factor, x) for factor in factors]
    found = [part for part in parts if part is not None]
    if len(factors) < 2 or len(found) < len(parts):
        return
    ratio, constant, _ = coefficient(question.body, x)
    product = multiply(constant, *found)
    yield scale(product, ratio, x) if x in names(product) else product


SLIP = Slip(
    id="product-factor-by-factor",
    title="A product was integrated factor by factor",
    explains="Each factor was integrated on its own. There is no such rule: the derivative of a product has two terms.",
    hint="Differentiate your product with the product rule. Is there a substitution, or can it be done by parts?",
    kinds=("indefinite",),
    rank=1,
    leads_to=leads_to,
    repairs=no_repairs,
    examples=(
        Example(r"\int x^2 \sinh x \, dx", r"(x^2 + 2)\cosh x - 2x\sinh x + C", r"\frac{x^3}{3} \cosh x + C", repairable=False),
        Example(r"\int 5x e^{2x} \, dx", r"\frac{5x}{2} e^{2x} - \frac{5}{4} e^{2x} + C", r"\frac{5x^2}{4} e^{2x}", repairable=False),
    ),
)
