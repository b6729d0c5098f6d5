"""The search for worked solutions: see `derive`."""

from .budget import Budget
from .certify import certificate, certify
from .derive import derive
from .route import Attempt, Derivation, Line, Reconciliation, Route

__all__ = ["Attempt", "Budget", "Derivation", "Line", "Reconciliation", "Route", "certificate", "certify", "derive"]
