"""What makes a value provable: an antiderivative, which the checker then checks for itself."""

from __future__ import annotations

from ..kernel import IntegralValue
from ..notation.build import without_constant
from ..notation.question import Question
from ..notation.tree import Infinity, Integral, Interval, Negative, Node
from .budget import Budget
from .derive import derive


def antiderivative(claim: IntegralValue, *, seconds: float = 5.0) -> Node | None:
    """An antiderivative of the integrand between its limits, if a method finds one. It is a proposal and proves nothing by itself."""
    lower, upper = claim.lower, claim.upper
    backwards = isinstance(lower, Infinity) or upper == Negative(Infinity())
    domain = Interval(upper, lower) if backwards else Interval(lower, upper)
    indefinite = Integral(claim.integrand, claim.setting.variable)
    for region in (domain, None):
        found = derive(Question(indefinite, claim.setting.given, region), most=1, budget=Budget(seconds=seconds))
        if found.routes:
            return without_constant(found.routes[0].answer)
    return None
