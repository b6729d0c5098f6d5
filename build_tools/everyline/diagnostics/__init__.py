"""Facts about what is wrong, put into words and printed. The names below are all that other rooms need."""

from __future__ import annotations

from .diagnostic import Diagnostic, Label, Replacement, told
from .formats.text import render_one as text
from .kind import Kind, codes, diagnose, kind
from .order import in_order

__all__ = ["Diagnostic", "Kind", "Label", "Replacement", "codes", "diagnose", "in_order", "kind", "text", "told"]
