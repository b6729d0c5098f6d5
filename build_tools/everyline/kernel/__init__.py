"""The trusted checker: see `check`."""

from .check import check
from .claims import Certificate, Checked, Claim, Equal, IntegralValue, Refuted, SameDerivative, Setting, Tail, Undecided, question_claim

__all__ = [
    "Certificate", "Checked", "Claim", "Equal", "IntegralValue", "Refuted", "SameDerivative", "Setting", "Tail", "Undecided", "check",
    "question_claim",
]  # fmt: skip
