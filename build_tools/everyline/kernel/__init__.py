"""The trusted checker: see `check`."""

from .check import check
from .claims import (
    Checked,
    Claim,
    DerivativeOf,
    Equal,
    IntegralValue,
    LimitValue,
    Refuted,
    Remark,
    SameDerivative,
    Setting,
    Undecided,
    question_claim,
)

__all__ = [
    "Checked", "Claim", "DerivativeOf", "Equal", "IntegralValue", "LimitValue", "Refuted", "Remark", "SameDerivative", "Setting",
    "Undecided", "check", "question_claim",
]  # fmt: skip
