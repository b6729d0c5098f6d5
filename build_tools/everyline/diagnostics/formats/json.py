"""Diagnostics as one JSON document, for programs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from ...notation.message import Translate
from ...source.span import Place, Span
from ..diagnostic import Diagnostic, told
from ..order import in_order


def render(diagnostics: Iterable[Diagnostic], *, summary: Mapping[str, Any] | None = None, tell: Translate = str) -> str:
    """`{"diagnostics": […], "summary": {…}}`. Lines and columns are 1-based, columns in code points, ends exclusive."""
    ordered = in_order(diagnostics)
    counts = {severity: sum(d.severity == severity for d in ordered) for severity in ("error", "warning", "notice")}
    document = {"diagnostics": [as_data(each, tell) for each in ordered], "summary": {**counts, **(summary or {})}}
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def as_data(diagnostic: Diagnostic, tell: Translate = str) -> dict[str, Any]:
    """One diagnostic as plain data; `where` is the place of the fault (null for one that has none)."""
    where = diagnostic.labels[0].span if diagnostic.labels else None
    mend = diagnostic.replacement
    return {
        "code": diagnostic.code,
        "severity": diagnostic.severity,
        "headline": told(diagnostic.headline, tell),
        "where": _span(where) if where else None,
        "also": [{**_span(label.span), "text": told(label.text, tell)} for label in diagnostic.labels[1:]],
        "notes": [told(note, tell) for note in diagnostic.notes],
        "help": told(diagnostic.help, tell),
        "replacement": {**_span(mend.span), "text": mend.text} if mend else None,
    }


def _span(span: Span) -> dict[str, Any]:
    return {"path": span.path, "start": _place(span.start), "end": _place(span.end)}


def _place(place: Place) -> dict[str, int]:
    return {"line": place.line, "column": place.column}
