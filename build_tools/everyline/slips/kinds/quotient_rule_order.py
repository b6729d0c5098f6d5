"""(f/g)′ = (fg′ - f′g)/g²: the terms of the quotient rule the wrong way round, or its square left out."""

from __future__ import annotations

from ...notation.build import add, divide, multiply, power, subtract
from ..base import Example, Slip, no_repairs
from ..twisted import Rules, twisted

_RULES = (
    Rules(quotient=lambda u, v, du, dv: divide(subtract(multiply(u, dv), multiply(du, v)), power(v, 2))),
    Rules(quotient=lambda u, v, du, dv: divide(add(multiply(du, v), multiply(u, dv)), power(v, 2))),
    Rules(quotient=lambda u, v, du, dv: divide(subtract(multiply(du, v), multiply(u, dv)), v)),
)

SLIP = Slip(
    id="quotient-rule-order",
    title="The quotient rule with its terms in the wrong order",
    explains="In the quotient rule the derivative of the top comes first; the other order turns the sign, and the bottom is squared.",
    hint="Say the quotient rule in words before you put in the functions.",
    kinds=("derivative",),
    rank=2,
    leads_to=twisted(*_RULES),
    repairs=no_repairs,
    examples=(
        Example(r"\frac{d}{dx} \frac{\sin x}{x^2}", r"\frac{x\cos x - 2\sin x}{x^3}", r"\frac{2\sin x - x\cos x}{x^3}"),
        Example(r"\frac{d}{dx} \frac{x^2}{x + 4}", r"\frac{x^2 + 8x}{(x + 4)^2}", r"-\frac{x^2 + 8x}{(x + 4)^2}"),
    ),
    rules=_RULES,
)
