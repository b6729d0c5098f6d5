"""A tab at the start of a line."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import TabIndent
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="tab-indent",
    severity="error",
    title="Tab at the start of a line",
    meaning="YAML does not allow tabs before a value; it counts spaces.",
    mend="Put spaces in place of the tab.",
    wrong="hints:\n\t- Divide first.",
    right="hints:\n  - Divide first.",
)


def diagnose(fact: TabIndent) -> Diagnostic:
    return KIND.at(fact.span, say("This line begins with a tab."))
