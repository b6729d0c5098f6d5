"""What is wrong with a file, at its place on the page: shown while the book is being written, never published."""

from __future__ import annotations

from collections.abc import Sequence

from .. import diagnostics
from ..diagnostics import Diagnostic
from ..diagnostics.formats.text import HasLines
from .addresses import Here
from .markup import element, escape


def banner(faults: Sequence[Diagnostic], lines: HasLines, here: Here) -> str:
    """The errors among the diagnostics as a person sees them on a terminal, with the line and the place; empty when there are none."""
    errors = [fault for fault in faults if fault.severity == "error"]
    if not errors:
        return ""
    title = element("p", here.tell("This file needs mending. It will not be published as it is."), class_="ev-fault__title")
    shown = (element("pre", escape(diagnostics.text(fault, lines, tell=here.tell)), tabindex=0) for fault in errors)
    return element("div", title, *shown, class_="ev-fault", role="alert")
