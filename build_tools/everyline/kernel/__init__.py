"""The trusted checker: see `check`."""

from .check import check
from .claims import Checked, Claim, Equal, IntegralValue, Refuted, Remark, SameDerivative, Setting, Undecided, question_claim

__all__ = [
    "Checked", "Claim", "Equal", "IntegralValue", "Refuted", "Remark", "SameDerivative", "Setting", "Undecided", "check", "question_claim",
]  # fmt: skip
