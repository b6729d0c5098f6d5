"""Diagnostics as annotations of a GitHub Actions step.

The lines are "workflow commands for GitHub Actions" (docs.github.com, Setting a notice, warning or error message). A step shows at
most ten annotations of each kind and drops the others without a word: so ten are sent in all, the gravest first, and the log says
what was left out.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.message import Translate, say
from ..diagnostic import Diagnostic, told
from ..order import in_order
from .text import summary, visible

MOST = 10
_WEIGHT = {"error": 0, "warning": 1, "notice": 2}


def render(diagnostics: Iterable[Diagnostic], *, root: str = "", tell: Translate = str) -> str:
    """At most ten commands, then in plain lines what else there is, and the count of all. `root` (`content/`) goes before each path.

    People read it beside the lines of a change, so `tell` says it in the language of the book; the codes stay what they are.
    """
    ordered = sorted(in_order(diagnostics), key=lambda each: _WEIGHT.get(each.severity, 2))
    sent, cut = ordered[:MOST], ordered[MOST:]
    lines = [_command(each, root, tell) for each in sent]
    if cut:
        left = say("GitHub shows no more than {most} of a step. Not shown beside their lines: {count}.", most=MOST, count=len(cut))
        lines.append(told(left, tell))
        lines += [f"{_place(each, root)}{each.code}: {visible(told(each.headline, tell))}" for each in cut]
    return "\n".join([*lines, summary(ordered, tell)]) + "\n"


def _command(diagnostic: Diagnostic, root: str, tell: Translate) -> str:
    properties = {"title": diagnostic.code}
    if diagnostic.labels:
        span = diagnostic.labels[0].span
        properties = {"file": root + span.path, "line": str(span.start.line), "endLine": str(span.end.line), **properties}
        if span.start.line == span.end.line:  # GitHub takes columns only within one line
            properties |= {"col": str(span.start.column), "endColumn": str(max(span.end.column, span.start.column + 1))}
    where = ",".join(f"{name}={_escaped(value, ':,')}" for name, value in properties.items())
    parts = [told(each, tell) for each in (diagnostic.headline, *diagnostic.notes, diagnostic.help)]
    parts += [diagnostic.replacement.text] if diagnostic.replacement else []
    return f"::{diagnostic.severity} {where}::{_escaped(chr(10).join(parts))}"


def _escaped(text: str, more: str = "") -> str:
    """A value of a command: `%` and line breaks as `%25`, `%0D`, `%0A`; in a property also `:` and `,` (actions/toolkit, command.ts)."""
    return "".join(f"%{ord(char):02X}" if char in "%\r\n" + more else char for char in text)


def _place(diagnostic: Diagnostic, root: str) -> str:
    if not diagnostic.labels:
        return ""
    span = diagnostic.labels[0].span
    return f"{root}{visible(span.path)}:{span.start.line}:{span.start.column} "
