"""Diagnostics as SARIF 2.1.0 (OASIS Standard, 27 March 2020), for code-scanning services and editors."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any
from urllib.parse import quote

from ...notation.message import Translate
from ...source.span import Span
from ..diagnostic import Diagnostic, told
from ..kind import codes, kind
from ..order import in_order

#: The schema's address as the standard's section 3.13.3 asks for it: a name, never fetched by us.
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {"error": "error", "warning": "warning", "notice": "note"}


def render(diagnostics: Iterable[Diagnostic], *, root: str = "", version: str = "", tell: Translate = str) -> str:
    """One log with one run. Paths are relative to where the check was called from, `root` (`content/`) before each.

    A service shows it to people, so `tell` says it in the language of the book; the codes stay what they are.
    """
    known = codes()
    run = {
        "tool": {"driver": {"name": "everyline", "version": version, "rules": [_rule(code, tell) for code in known]}},
        # our columns are 1-based code points (section 3.14.17)
        "columnKind": "unicodeCodePoints",
        "results": [_result(each, known, root, tell) for each in in_order(diagnostics)],
    }
    return json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, ensure_ascii=False, indent=2) + "\n"


def _rule(code: str, tell: Translate) -> dict[str, Any]:
    about = kind(code)
    return {
        "id": code,
        "shortDescription": {"text": f"{tell(about.title)}."},
        "fullDescription": {"text": tell(about.meaning)},
        "help": {"text": tell(about.mend)},
        "defaultConfiguration": {"level": _LEVELS[about.severity]},
    }


def _result(diagnostic: Diagnostic, known: tuple[str, ...], root: str, tell: Translate) -> dict[str, Any]:
    said = "\n".join(told(part, tell) for part in (diagnostic.headline, *diagnostic.notes, diagnostic.help))
    result: dict[str, Any] = {
        "ruleId": diagnostic.code,
        "ruleIndex": known.index(diagnostic.code),
        "level": _LEVELS[diagnostic.severity],
        "message": {"text": said},
    }
    if diagnostic.labels:
        result["locations"] = [{"physicalLocation": _physical(diagnostic.labels[0].span, root)}]
    if len(diagnostic.labels) > 1:
        result["relatedLocations"] = [
            {
                "id": n,
                "physicalLocation": _physical(label.span, root),
                **({"message": {"text": told(label.text, tell)}} if label.text else {}),
            }
            for n, label in enumerate(diagnostic.labels[1:], 1)
        ]
    if mend := diagnostic.replacement:
        change = {"deletedRegion": _region(mend.span), "insertedContent": {"text": mend.text}}
        result["fixes"] = [{"artifactChanges": [{"artifactLocation": _artifact(mend.span, root), "replacements": [change]}]}]
    return result


def _physical(span: Span, root: str) -> dict[str, Any]:
    return {"artifactLocation": _artifact(span, root), "region": _region(span)}


def _artifact(span: Span, root: str) -> dict[str, Any]:
    return {"uri": quote(root + span.path)}


def _region(span: Span) -> dict[str, int]:
    """Ends are exclusive (section 3.30.8); an empty region is an insertion point."""
    start, end = span.start, span.end
    return {"startLine": start.line, "startColumn": start.column, "endLine": end.line, "endColumn": end.column}
