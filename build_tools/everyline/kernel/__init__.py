"""The trusted checker: see `check`."""

from .check import Checked, check
from .claims import Claim, DerivativeOf, Equal, IntegralValue, LimitValue, Refuted, Remark, SameDerivative, Setting, Undecided
from .derivative import derivative

__all__ = [
    "Checked",
    "Claim",
    "DerivativeOf",
    "Equal",
    "IntegralValue",
    "LimitValue",
    "Refuted",
    "Remark",
    "SameDerivative",
    "Setting",
    "Undecided",
    "check",
    "derivative",
]
