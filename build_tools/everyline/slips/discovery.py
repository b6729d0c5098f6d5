"""Finding the slips: every module of `kinds/`."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from . import kinds
from .base import Slip


@cache
def all_slips() -> tuple[Slip, ...]:
    """Every slip, the most telling first, then by id."""
    found: list[Slip] = [import_module(f"{kinds.__name__}.{module.name}").SLIP for module in iter_modules(kinds.__path__)]
    return tuple(sorted(found, key=lambda slip: (slip.rank, slip.id)))
