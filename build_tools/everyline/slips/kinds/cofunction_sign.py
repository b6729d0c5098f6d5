"""(cos x)′ = sin x: the sign of the derivative of a co-function."""

from __future__ import annotations

from ...algebra.derivative import OUTER
from ...notation.build import negate
from ...notation.tree import Node
from ..base import Example, Slip, no_repairs
from ..twisted import Rules, twisted

CO = ("cos", "cot", "csc", "arccos", "arccot", "arccsc")


def _unsigned(name: str, u: Node) -> Node:
    return negate(OUTER[name](u)) if name in CO else OUTER[name](u)


def _signed(name: str, u: Node) -> Node:
    return OUTER[name](u) if name in CO else negate(OUTER[name](u))


SLIP = Slip(
    id="cofunction-sign",
    title="The sign of the derivative of a function and its co-function",
    explains="The sign does not fit: the functions that begin with co- have a minus in their derivative, the others have none.",
    hint="Does cosine rise or fall just after zero?",
    kinds=("derivative",),
    rank=2,
    leads_to=twisted(Rules(function=_unsigned), Rules(function=_signed)),
    repairs=no_repairs,
    examples=(
        Example(r"\frac{d}{dx} \cos(x^5)", r"-5x^4\sin(x^5)", r"5x^4\sin(x^5)"),
        Example(r"\frac{d}{dx} (x + \cot x)", r"1 - \csc^2 x", r"1 + \csc^2 x"),
        Example(r"\frac{d}{dx} (4x - \sin x)", r"4 - \cos x", r"4 + \cos x"),
    ),
)
