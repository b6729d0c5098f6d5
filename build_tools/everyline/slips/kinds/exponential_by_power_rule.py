"""(3ˣ)′ = x 3ˣ⁻¹: the power rule for an exponential."""

from __future__ import annotations

from ...notation.build import ONE, multiply, power, subtract
from ...notation.tree import Node, Power
from ..base import Example, Slip, no_repairs
from ..twisted import Rules, twisted


def _as_power(base: Node, exponent: Node, slope: Node) -> Node:
    return multiply(exponent, power(base, subtract(exponent, ONE)))


def _with_slope(base: Node, exponent: Node, slope: Node) -> Node:
    return multiply(exponent, slope, power(base, subtract(exponent, ONE)))


def _no_logarithm(base: Node, exponent: Node, slope: Node) -> Node:
    return multiply(slope, Power(base, exponent))


_RULES = (
    Rules(exponential=_as_power),
    Rules(exponential=_with_slope),
    Rules(exponential=_no_logarithm),
)

SLIP = Slip(
    id="exponential-by-power-rule",
    title="The power rule was used on an exponential",
    explains="The variable is in the exponent: the power rule does not apply, and the logarithm of the base comes out as a factor.",
    hint="Which is fixed here, the base or the exponent?",
    kinds=("derivative",),
    rank=1,
    leads_to=twisted(*_RULES),
    repairs=no_repairs,
    examples=(
        Example(r"\frac{d}{dx} 7^x", r"7^x \ln 7", r"x \cdot 7^{x - 1}"),
        Example(r"\frac{d}{dx} (x^2 + 6^x)", r"2x + 6^x \ln 6", r"2x + 6^x"),
    ),
    rules=_RULES,
)
