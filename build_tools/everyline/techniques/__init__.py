"""Techniques: one file each, found by looking through this package. `catalogue()` lists them by id.

No techniques themselves, but what several of them share:

- `base` (its shape), `asking` and `limiting` (what is asked of a question), `simple` (a small antiderivative);
- `forms` (the table), `quadratics`, `cancelling` (the v that lets a factor cancel),
  `squares`, `waves` (powers of sines and the like), `rewriting`, `half_angles`;
- `identities`, `identities_conjugate`, `identities_hyperbolic`, `identities_sum`: rewritings for `identity`;
- `substituting`, `brackets` (between limits), `far` (limits at infinity), `limit_conjugates`, `limit_reasons`.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from .base import Example, Shown, Step, Technique

__all__ = ["Example", "Shown", "Step", "Technique", "catalogue"]


@cache
def catalogue() -> Mapping[str, Technique]:
    """Every technique by its id, cheapest first."""
    found: list[Technique] = []
    for module in pkgutil.iter_modules(__path__):
        technique = getattr(importlib.import_module(f"{__name__}.{module.name}"), "TECHNIQUE", None)
        if isinstance(technique, Technique):
            found.append(technique)
    found.sort(key=lambda t: (t.cost, t.id))
    return MappingProxyType({t.id: t for t in found})
