"""Finding the slips: every module of this package that exposes `SLIP`."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from .base import Slip


@cache
def all_slips() -> tuple[Slip, ...]:
    """Every slip, the most telling first, then by id."""
    package = __name__.rpartition(".")[0]
    modules = (import_module(f"{package}.{module.name}") for module in iter_modules(import_module(package).__path__))
    found = (getattr(module, "SLIP", None) for module in modules)
    return tuple(sorted((slip for slip in found if isinstance(slip, Slip)), key=lambda slip: (slip.rank, slip.id)))
