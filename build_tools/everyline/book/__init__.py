"""What a book is, and how it is made from its sources. Names are loaded when they are used: a claim is checked without SymPy."""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .assembly import build, read_and_build
    from .data import Book, Examined, Family, HandSolution, Instance, KeyVerdict, Vouched
    from .examination import Job, examine

_HOMES = {
    "Book": "data", "Examined": "data", "HandSolution": "data", "KeyVerdict": "data", "Vouched": "data",
    "Family": "data", "Instance": "data",
    "Job": "examination", "examine": "examination", "build": "assembly", "read_and_build": "assembly",
}  # fmt: skip
__all__ = ["Book", "Examined", "Family", "HandSolution", "Instance", "Job", "KeyVerdict", "Vouched", "build", "examine", "read_and_build"]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(importlib.import_module(f".{_HOMES[name]}", __name__), name)
