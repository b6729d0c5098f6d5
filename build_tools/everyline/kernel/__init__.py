"""The trusted checker: see `check`."""

from .check import check, question_claim
from .claims import Checked, Claim, DerivativeOf, Equal, IntegralValue, LimitValue, Refuted, Remark, SameDerivative, Setting, Undecided

__all__ = [
    "Checked", "Claim", "DerivativeOf", "Equal", "IntegralValue", "LimitValue", "Refuted", "Remark", "SameDerivative", "Setting",
    "Undecided", "check", "question_claim",
]  # fmt: skip
