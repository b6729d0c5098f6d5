"""The search for worked solutions: see `derive`.

- the search: `derive` is the way in; `search`, `steps` (what is asked of the kernel), `budget`;
  `route` is what is found, as data, `differing` whether two are one method;
- lines: `writing` (from a plan to the board), `putting` (an answer where it was asked for), `finishing` (a derivative),
  `neatening` (an antiderivative);
- between limits: `definite`, `valued`, `pieces`, `carrying`, `ends`; for the kernel: `certify`, `tails`;
- what was asked for: `wishing` (granted), `refusing` (why not);
- beside a solution: `attempts` (tempting substitutions), `reconcile` and `between` (two answers).
"""

from .budget import Budget
from .certify import certificate, certify
from .derive import derive, untaught
from .route import Attempt, Derivation, Line, Reconciliation, Route

__all__ = ["Attempt", "Budget", "Derivation", "Line", "Reconciliation", "Route", "certificate", "certify", "derive", "untaught"]
