"""Which diagnostic comes first, and which need not be said twice."""

from __future__ import annotations

from collections.abc import Iterable

from .diagnostic import Diagnostic, told

_WEIGHT = {"error": 0, "warning": 1, "notice": 2}


def in_order(diagnostics: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
    """Each once, by file and by place in it; at one place the gravest first."""
    return tuple(sorted(dict.fromkeys(diagnostics), key=_key))


def _key(diagnostic: Diagnostic) -> tuple[object, ...]:
    severity = _WEIGHT.get(diagnostic.severity, 3)
    if not diagnostic.labels:
        return ("", 0, 0, severity, diagnostic.code, told(diagnostic.headline))
    span = diagnostic.labels[0].span
    return (span.path, span.start.line, span.start.column, severity, diagnostic.code, told(diagnostic.headline))
