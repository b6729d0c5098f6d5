"""Values that YAML reads otherwise than they look, and how to see it: the one list of them."""

from __future__ import annotations

import re

from ..notation.message import sentence

TRAPS: dict[str, str] = {
    "bar": sentence("a `|` at the start means that a longer text follows on the next lines"),
    "greater": sentence("a `>` at the start means that a longer text follows on the next lines"),
    "star": sentence("a `*` at the start refers to another value"),
    "and": sentence("an `&` at the start gives a name to the value"),
    "exclamation": sentence("a `!` at the start names a type"),
    "percent": sentence("a value may not begin with `%`"),
    "at": sentence("a value may not begin with `@`"),
    "backtick": sentence("a value may not begin with a backtick"),
    "comma": sentence("a value may not begin with a comma or a closing bracket"),
    "braces": sentence("braces at the start make a table of names and values"),
    "brackets": sentence("square brackets at the start make a list, and a comma in them ends an item"),
    "open-list": sentence("a square bracket at the start begins a list, and this one is never closed"),
    "dash": sentence("a dash and a space at the start make a list"),
    "question": sentence("a `?` and a space at the start begin a table"),
    "double-quote": sentence("between double quotes a backslash is a command (`\\t` a tab, `\\f` a new page), not part of a formula"),
    "after-quote": sentence("nothing may come after the closing quote"),
    "open-quote": sentence("the quote at the start is never closed"),
    "colon": sentence("a colon and a space (or a colon at the end) begin a new field"),
    "hash": sentence("a space and a `#` begin a remark, so the rest is cut off"),
}

_STARTS = {
    "*": "star",
    "&": "and",
    "!": "exclamation",
    "%": "percent",
    "@": "at",
    "`": "backtick",
    ",": "comma",
    "]": "comma",
    "}": "comma",
    "{": "braces",
    "[": "brackets",
}
_REMARK = re.compile(r"(?:^|[ \t]+)#(?:\s.*)?$")
_CUT = re.compile(r"(?:^|[ \t])[ \t]*#(?=\S)")
_ITEM = re.compile(r"[ \t]*(?:-[ \t]+|[A-Za-z_]\w*:[ \t]+)?(?=\S)")


def find_traps(text: str, start: int, end: int) -> list[tuple[str, int, int]]:
    """The values from `start` (just after a field's colon) to `end` that are traps: their kinds and where they begin and end."""
    found: list[tuple[str, int, int]] = []
    at = start
    while at < end:
        stop = _line_stop(text, at, end)
        begin = at + len(text[at:stop]) - len(text[at:stop].lstrip())
        if at > start:
            item = _ITEM.match(text, at, stop)
            begin = item.end() if item else stop
        value = text[begin:stop]
        value = value[: len(value.rstrip())]
        kind = trap_kind(value)
        if kind == "brackets" and "]" not in text[begin:end]:
            kind = "open-list"
        if kind:
            shown = _REMARK.sub("", value).rstrip() if kind not in {"hash", "open-quote"} else value
            found.append((kind, begin, begin + len(shown)))
        at = stop + 1
    return found


def _line_stop(text: str, at: int, end: int) -> int:
    stop = text.find("\n", at, end)
    return end if stop < 0 else stop


def trap_kind(value: str) -> str | None:
    """How YAML would misread `value` (one line, as typed after the colon), or None."""
    if not value or value.startswith("#"):
        return "hash" if _CUT.match(value) else None
    if value[0] in "|>":
        block = re.fullmatch(r"[|>][+\-0-9]{0,2}(?:\s+#.*)?", value)
        return None if block else ("bar" if value[0] == "|" else "greater")
    if value[0] == "'":
        return _quoted_trap(value, re.compile(r"'(?:[^']|'')*'"))
    if value[0] == '"':
        if bad_escape(value):
            return "double-quote"
        return _quoted_trap(value, re.compile(r'"(?:[^"\\]|\\.)*"'))
    if value[0] in _STARTS:
        return _STARTS[value[0]]
    if re.match(r"[-?](?:\s|$)", value):
        return "dash" if value[0] == "-" else "question"
    if re.search(r":(?:\s|$)", value):
        return "colon"
    return "hash" if _CUT.search(value) else None


def _quoted_trap(value: str, closed: re.Pattern[str]) -> str | None:
    match = closed.match(value)
    if match is None:
        return "open-quote"
    return None if not value[match.end() :].strip() or _REMARK.match(value, match.end()) else "after-quote"


def bad_escape(quoted: str) -> int | None:
    """Where, in a double-quoted value, a backslash stands that is not one of `\\\\`, `\\"` or at the end of a line; None: nowhere."""
    for match in re.finditer(r"\\(.?)", quoted, re.DOTALL):
        if match[1] not in {"\\", '"', "", "\n", "\r"}:
            return match.start() or None
    return None


def cut_by_remark(rest: str) -> bool:
    """Whether what follows a value on its line is a `#` right before a word: not surely a remark, perhaps a piece of the value."""
    return bool(_CUT.match(rest))


def in_single_quotes(value: str) -> str:
    """The value as it has to be written to be taken as it is."""
    return "'" + value.replace("'", "''") + "'"
