"""(fg)′ = f′g′: a product differentiated factor by factor."""

from __future__ import annotations

from ...notation.build import multiply
from ..base import Example, Slip, no_repairs
from ..twisted import Rules, twisted

_RULES = (Rules(product=lambda factors, derived: multiply(*derived)),)

SLIP = Slip(
    id="product-rule-missing",
    title="A product was differentiated factor by factor",
    explains="The factors were differentiated each on its own and multiplied; a product needs the product rule.",
    hint="Try your rule on x times x.",
    kinds=("derivative",),
    rank=1,
    leads_to=twisted(*_RULES),
    repairs=no_repairs,
    examples=(
        Example(r"\frac{d}{dx} (x^4 \sin x)", r"4x^3\sin x + x^4\cos x", r"4x^3\cos x"),
        Example(r"\frac{d}{dx} ((x^2 + 3)\ln x)", r"2x\ln x + \frac{x^2 + 3}{x}", r"2x \cdot \frac{1}{x}"),
    ),
    rules=_RULES,
)
