"""The trusted checker: see `check`."""

from .check import Checked, check, question_claim
from .claims import Claim, DerivativeOf, Equal, IntegralValue, LimitValue, Refuted, Remark, SameDerivative, Setting, Undecided

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
    "question_claim",
]
