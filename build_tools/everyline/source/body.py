"""What comes after the front matter: prose, and fenced `lines` blocks."""

from __future__ import annotations

import posixpath
import re
from dataclasses import dataclass
from difflib import get_close_matches
from urllib.parse import unquote

from .blocks import read_lines
from .faults import BadLink, EmptyBlock, Fault, RawHtml, TooLarge, UnclosedBlock, UnknownBlock
from .fields import HTML
from .problem import Block
from .span import Lines, Text

FENCE = re.compile(r" {0,3}(?P<fence>`{3,}|~{3,})[ \t]*(?P<info>[^`]*?)[ \t]*$")
_CODE = re.compile(r"(?P<tick>`+)(?!`).*?(?<!`)(?P=tick)(?!`)|\$[^$\n]*\$")
_LINK = re.compile(r"\]\(\s*<?(?P<target>[^\s)>]+)|^ {0,3}\[[^\]]+\]:\s*<?(?P<reference>[^\s>]+)", re.MULTILINE)
MAX_LINE = 5_000
_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.\-]*:")


@dataclass(frozen=True, slots=True)
class Body:
    prose: str
    blocks: tuple[Block, ...]
    faults: tuple[Fault, ...]


def read_body(lines: Lines, first: int) -> Body:
    """The body from the 1-based line `first` on."""
    prose: list[str] = []
    blocks: list[Block] = []
    faults: list[Fault] = []
    number = first
    while number <= len(lines):
        line = _line(lines, number)
        fence = FENCE.match(line.value)
        if fence is None:
            prose.append(line.value)
            faults.extend(prose_faults(lines.path, line))
            number += 1
            continue
        stop = closing_line(lines, number + 1, fence["fence"])
        inner = tuple(_line(lines, n) for n in range(number + 1, min(stop, len(lines) + 1)))
        info = line.part(*fence.span("info"))
        if stop > len(lines):
            faults.append(UnclosedBlock(line.part(*fence.span("fence")), fence["fence"]))
        if fence["info"] == "lines":
            made, wrong = read_lines(inner)
            faults.extend(wrong)
            if made:
                end = _line(lines, min(stop, len(lines))).span.end
                blocks.append(Block(type(info)(lines.path, line.span.start, end), made))
            elif not wrong:
                faults.append(EmptyBlock(info))
        else:
            if get_close_matches(fence["info"].lower(), ["lines"], cutoff=0.8):
                faults.append(UnknownBlock(info, fence["info"]))
            prose.extend(_line(lines, n).value for n in range(number, min(stop, len(lines)) + 1))
        number = stop + 1
    return Body("\n".join(prose).strip("\n"), tuple(blocks), tuple(faults))


def _line(lines: Lines, number: int) -> Text:
    return lines.piece(*lines.bounds(number))


def closing_line(lines: Lines, number: int, fence: str) -> int:
    """The number of the line that closes the fence, or one past the last line."""
    closing = re.compile(rf" {{0,3}}{re.escape(fence[0])}{{{len(fence)},}}[ \t]*$")
    while number <= len(lines) and not closing.match(_line(lines, number).value):
        number += 1
    return number


def prose_faults(path: str, line: Text) -> list[Fault]:
    """HTML and links that may not be in a problem's prose; code and formulas in it are left alone."""
    if len(line.value) > MAX_LINE:
        return [TooLarge(line.part(0, 1), "line", len(line.value), MAX_LINE)]
    hidden = _CODE.sub(lambda m: "\0" * len(m[0]), line.value)
    faults: list[Fault] = [RawHtml(line.part(*m.span()), m[0]) for m in HTML.finditer(hidden) if not m[0].lower().startswith("javascript")]
    for match in _LINK.finditer(hidden):
        group = "target" if match["target"] else "reference"
        why = _link_fault(path, match[group])
        if why is not None:
            faults.append(BadLink(line.part(*match.span(group)), match[group], why == "outside"))
    return faults


def _link_fault(path: str, target: str) -> str | None:
    """`scheme` or `outside` where a link may not lead, else None."""
    plain = unquote(target).replace("\\", "/")
    scheme = _SCHEME.match(plain)
    if scheme or plain.startswith("//"):
        return None if scheme and scheme[0].lower() in {"http:", "https:", "mailto:"} else "scheme"
    place = plain.split("#")[0].split("?")[0]
    if place.startswith("/"):
        return "outside"
    reached = posixpath.normpath(posixpath.join(posixpath.dirname(path), place))
    return "outside" if reached == ".." or reached.startswith("../") else None
