"""What is wrong with a file, at its place on the page: shown while the book is being written, never published."""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics.diagnostic import Diagnostic
from .markup import element, escape


def banner(faults: Sequence[Diagnostic]) -> str:
    """The errors among the diagnostics, each with its place and its mend; empty when there are none."""
    return "".join(_fault(fault) for fault in faults if fault.severity == "error")


def _fault(fault: Diagnostic) -> str:
    where = fault.labels[0].span if fault.labels else None
    place = f"{where.path}, line {where.start.line}, column {where.start.column}" if where else ""
    parts = (
        element("p", escape(fault.headline), class_="ev-fault__title"),
        element("p", escape(place), element("span", f" · {escape(fault.code)}", class_="ev-quiet")) if place else "",
        *(element("p", escape(note)) for note in fault.notes),
        *(element("p", f"“{escape(label.text)}”") for label in fault.labels[1:] if label.text),
        element("p", escape(fault.help)) if fault.help else "",
        element("pre", escape(fault.replacement.text)) if fault.replacement else "",
    )
    return element("div", *parts, class_="ev-fault", role="alert")
