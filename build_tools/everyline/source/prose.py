"""The text of a file below its front matter, where the fields do not matter."""

from __future__ import annotations

from .front import decode, front_of


def text_of(path: str, data: bytes) -> str:
    """What stands below the front matter of a Markdown file; all of it where there is none, nothing where it cannot be read."""
    lines, _ = decode(path, data)
    if lines is None:
        return ""
    front = front_of(lines)
    if not isinstance(front, tuple):
        return lines.text
    return lines.text[lines.bounds(front[2])[0] :] if front[2] <= len(lines) else ""
