"""(sin 3x)′ = cos 3x: the inner derivative was forgotten."""

from __future__ import annotations

from ..base import Example, Slip, no_repairs
from ..twisted import Rules, twisted

_RULES = (Rules(chain=lambda outer, inner: outer),)

SLIP = Slip(
    id="chain-inner-forgotten",
    title="The inner derivative was forgotten",
    explains="The outside was differentiated, but the derivative of the inside is missing as a factor.",
    hint="What is inside, and what is its derivative?",
    kinds=("derivative",),
    rank=1,
    leads_to=twisted(*_RULES),
    repairs=no_repairs,
    examples=(
        Example(r"\frac{d}{dx} \sin(6x - 1)", r"6\cos(6x - 1)", r"\cos(6x - 1)"),
        Example(r"\frac{d}{dx} (x^3 + 2x)^5", r"5(x^3 + 2x)^4 (3x^2 + 2)", r"5(x^3 + 2x)^4"),
    ),
    rules=_RULES,
)
