"""Techniques: one file each in `kinds`, by id in `catalogue()`. Beside it stands what several of them share:

- `base` (its shape), `asking` and `limiting` (what is asked of a question), `simple` (a small antiderivative);
- `forms` (the table), `quadratics`, `cancelling` (the v that lets a factor cancel),
  `squares`, `waves` (powers of sines and the like), `rewriting`, `half_angles`;
- `identities`, `identities_conjugate`, `identities_hyperbolic`, `identities_sum`: rewritings for `kinds/identity`;
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
    from . import kinds

    modules = (importlib.import_module(f"{kinds.__name__}.{module.name}") for module in pkgutil.iter_modules(kinds.__path__))
    found: list[Technique] = [module.TECHNIQUE for module in modules]
    found.sort(key=lambda t: (t.cost, t.id))
    return MappingProxyType({t.id: t for t in found})
