"""What a book is, and how it is made from its sources. Names are loaded when they are used: a claim is checked without the deriver.

- the book: `data`, `assembly` (from sources), `examination` (one problem), `release` (what is published when);
- where work is done: `workers`, `elsewhere`; what is kept of it: `memory`, `record`, `store`, `versions`, `changed`;
- a problem: `keys`, `workedout` (its solutions, and what stands in their way), `forms`, `words` (what the checker found, said),
  `hand` with `handfaults` and `inverse` (an author's lines);
- a family: `families`, `family`, `neat`, `niceness`, `worded`;
- what its page offers: `trying` with `traps` and `sampling`, `curves`, `work` with `slower`, `blanks`, `misstep` with `carried`;
- what is composed: `composed`, `sets` with `interleave`, `lessons`, `contrasts` with `contrast`, `surface`, `suggest`, `likeness`;
- commands: `drafting`, `collecting`, `desk` (new), `mending` (mend), `sheets`, `worksheets`, `formulas` (sheet), `asked`, `marking`,
  `class_marks` (mark), `report`, `rows` (prove and solve).
"""

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
