"""What a change does to a file, for a terminal: the lines that go, and the lines that come."""

from __future__ import annotations

import difflib

from ..diagnostics.formats.text import visible


def difference(path: str, before: bytes, after: bytes, *, colour: bool = False) -> str:
    """The change as a unified diff with one line around it. Nothing in the file can write to the terminal."""
    old, new = (data.decode("utf-8", "replace").removeprefix("\ufeff").splitlines() for data in (before, after))
    lines = list(difflib.unified_diff(old, new, n=1, lineterm=""))[2:]
    return "\n".join([visible(path), *(_shown(line, colour) for line in lines)])


def _shown(line: str, colour: bool) -> str:
    paint = {"-": "31", "+": "32", "@": "36"}.get(line[:1]) if colour else None
    return f"  \033[{paint}m{visible(line)}\033[0m" if paint else f"  {visible(line)}"
