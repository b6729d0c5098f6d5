"""(arcsin x)′ = 1/sin x: the inverse function read as a reciprocal."""

from __future__ import annotations

from ...algebra.derivative import OUTER, derivative
from ...notation.build import ONE, call, divide, substitute
from ...notation.tree import Name, Node
from ..base import Example, Slip, no_repairs
from ..twisted import Rules, twisted


def _reciprocal(name: str, u: Node) -> Node:
    return divide(ONE, call(name[3:], u)) if name.startswith("arc") else OUTER[name](u)


def _reciprocal_of_slope(name: str, u: Node) -> Node:
    """1/f′ in place of (f⁻¹)′."""
    return divide(ONE, OUTER[name[3:]](u)) if name.startswith("arc") else OUTER[name](u)


def _slope_of_reciprocal(name: str, u: Node) -> Node:
    """(1/f)′ in place of (f⁻¹)′."""
    if not name.startswith("arc"):
        return OUTER[name](u)
    return substitute(derivative(divide(ONE, call(name[3:], Name("u"))), "u"), {"u": u})


SLIP = Slip(
    id="inverse-as-reciprocal",
    title="An inverse function was read as a reciprocal",
    explains="The inverse function was taken for one divided by the function: the -1 up there is not an exponent.",
    hint="What does arcsin do that 1/sin does not?",
    kinds=("derivative",),
    rank=1,
    leads_to=twisted(Rules(function=_reciprocal), Rules(function=_reciprocal_of_slope), Rules(function=_slope_of_reciprocal)),
    repairs=no_repairs,
    examples=(
        Example(r"\frac{d}{dx} \arctan x", r"\frac{1}{1 + x^2}", r"\frac{1}{\tan x}"),
        Example(r"\frac{d}{dx} (5x + \arcsin x)", r"5 + \frac{1}{\sqrt{1 - x^2}}", r"5 + \frac{1}{\cos x}"),
    ),
)
