"""(f/g)′ = f′/g′: a quotient differentiated top and bottom apart."""

from __future__ import annotations

from ...notation.build import divide
from ..base import Example, Slip, no_repairs
from ..twisted import Rules, twisted

_RULES = (Rules(quotient=lambda u, v, du, dv: divide(du, dv)),)

SLIP = Slip(
    id="quotient-rule-missing",
    title="A quotient was differentiated top and bottom apart",
    explains="Top and bottom were differentiated each on its own; a quotient needs the quotient rule.",
    hint="Try your rule on x³ divided by x.",
    kinds=("derivative",),
    rank=1,
    leads_to=twisted(*_RULES),
    repairs=no_repairs,
    examples=(
        Example(r"\frac{d}{dx} \frac{\sin x}{x^2}", r"\frac{x\cos x - 2\sin x}{x^3}", r"\frac{\cos x}{2x}"),
        Example(r"\frac{d}{dx} \frac{x^2}{x + 4}", r"\frac{x^2 + 8x}{(x + 4)^2}", r"2x"),
    ),
    rules=_RULES,
)
