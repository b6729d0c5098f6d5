"""What makes a claim about a value provable: an antiderivative for an integral between limits; else what lets it be enclosed."""

from __future__ import annotations

from ..kernel import Certificate, Claim, IntegralValue
from ..notation.build import contains, without_constant
from ..notation.question import Question
from ..notation.tree import (
    ArbitraryConstant,
    Derivative,
    Equation,
    Evaluation,
    Inequality,
    Infinity,
    Integral,
    Interval,
    Limit,
    Node,
    Union,
)
from .budget import Budget
from .definite import inner
from .derive import derive
from .tails import tails

#: What no technique works on when it stands inside an integrand or a limit of integration.
_NO_FUNCTION = (ArbitraryConstant, Derivative, Equation, Evaluation, Inequality, Integral, Interval, Limit, Union)


def certify(claim: Claim, *, budget: Budget | None = None) -> Node | None:
    """An antiderivative of the claim's integrand between its limits, or None (a limit needs no certificate)."""
    if not isinstance(claim, IntegralValue) or contains(claim.integrand, Infinity):
        return None
    if any(contains(part, _NO_FUNCTION) for part in (claim.integrand, claim.lower, claim.upper)):
        return None
    node = Integral(claim.integrand, claim.setting.variable, claim.lower, claim.upper)
    asked = inner(Question(node, claim.setting.given))
    found = derive(asked, budget=budget or Budget(seconds=5.0), most=1)
    return without_constant(found.routes[0].answer) if found.routes else None


def certificate(claim: IntegralValue, *, budget: Budget | None = None) -> Certificate:
    """The antiderivative, or bounds for what lies far out; empty where neither is found."""
    found = certify(claim, budget=budget)
    return tails(Integral(claim.integrand, claim.setting.variable, claim.lower, claim.upper)) if found is None else found
