"""Hand-written solutions: the lines of a fenced block as formulas, names and reasons, each with its place. Nothing is parsed here."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import accumulate

from .faults import BadBlockLine, Fault, TooLarge
from .problem import HandLine
from .span import Text

MAX_LINE = 2_000
_NAME = r"(?:\\[A-Za-z]+|[^\W\d_])(?:_(?:\w|\{\w+\}))?'?"
_D = r"(?:d|\\mathrm\{d\}|\\operatorname\{d\}|\\mathrm d)"
_LET = re.compile(r"\s*let\b(?=[\s\\])", re.IGNORECASE)
_BARE = re.compile(rf"\s*{_NAME}\s*")
_DIFFERENTIAL = re.compile(rf"\s*{_D}\s*{_NAME}\s*")
_WITH_DIFFERENTIAL = re.compile(rf".*(?:^|[^A-Za-z\\]){_D}\s*{_NAME}\s*", re.DOTALL)
_INTEGRAL = re.compile(r"\\int|∫|\bint\b")
_NEXT = re.compile(rf"(?:(?<!\\),\s*|\s*\\q?quad\s*|\s+and\s+)(?=(?:let\s+)?(?:{_D}\s*)?{_NAME}\s*=)")
_EQUALS = re.compile(r"(?<![<>!=:\\])=(?!=)")


def read_lines(lines: tuple[Text, ...]) -> tuple[tuple[HandLine, ...], tuple[Fault, ...]]:
    """The non-empty lines of a block as `HandLine`s. A block may begin with `= …`: it then continues the question."""
    found: list[HandLine] = []
    faults: list[Fault] = []
    for line in lines:
        if len(line.value) > MAX_LINE:
            faults.append(TooLarge(line.part(0, 1), "line", len(line.value), MAX_LINE))
        elif line.value.strip():
            for made in _line(line.stripped()):
                if isinstance(made, Fault):
                    faults.append(made)
                else:
                    found.append(made)
    return tuple(found), tuple(faults)


def _line(line: Text) -> Iterator[HandLine | Fault]:
    """One line: its formulas (several where names are given side by side), the last of them with the reason."""
    body, reason = _split_reason(line)
    made: list[HandLine] = []
    for part in _parts(body):
        for item in _part(part):
            if isinstance(item, Fault):
                yield item
                return
            made.append(item)
    if not made:
        made = [HandLine(body.stripped(), kind="note")]
    last = made[-1]
    yield from made[:-1]
    yield HandLine(last.formula, reason, last.kind, last.left)


def _split_reason(line: Text) -> tuple[Text, str]:
    """A `;` begins the reason, except in the thin space that TeX writes as backslash and semicolon."""
    mark = re.search(r"(?<!\\);", line.value)
    if mark is None:
        return line, ""
    return line.cut(0, mark.start()), line.value[mark.end() :].strip()


def _parts(body: Text) -> Iterator[Text]:
    """`u = x, dv = e^x dx` are two; a comma inside brackets or before anything but a name and `=` is none of our business."""
    start = 0
    if not _EQUALS.search(body.value):
        yield body
        return
    depths = _depths(body.value)
    for match in _NEXT.finditer(body.value):
        if depths[match.start()] == 0 and body.value[start : match.start()].strip():
            yield body.cut(start, match.start())
            start = match.end()
    yield body.cut(start)


def _part(part: Text) -> Iterator[HandLine | Fault]:
    let = _LET.match(part.value)
    body = part.cut(let.end()) if let else part
    depths = _depths(body.value)
    cuts = [m.start() for m in _EQUALS.finditer(body.value) if depths[m.start()] == 0]
    pieces = [body.cut(a + (k > 0), b) for k, (a, b) in enumerate(zip([0, *cuts], [*cuts, None], strict=True))]
    if not pieces[0].value.strip() and len(pieces) == 1 and not let:
        return
    if any(not piece.value.strip() for piece in pieces[1:]) or (let and (len(pieces) == 1 or not pieces[0].value.strip())):
        yield BadBlockLine(part.stripped().span, "let" if let else "nothing-after")
        return
    kind = _named(pieces, bool(let))
    if kind:
        yield HandLine(pieces[1].stripped(), kind=kind, left=pieces[0].stripped())
        rest = pieces[2:]
    else:
        if pieces[0].value.strip():
            yield HandLine(pieces[0].stripped())
        rest = pieces[1:]
    for piece in rest:
        yield HandLine(piece.stripped(), kind="continued")


def _named(pieces: list[Text], let: bool) -> str | None:
    """`let` or `differential` where the first `=` names something, None where it only says that two formulas are equal."""
    left = pieces[0].value
    if len(pieces) < 2 or not left.strip():
        return None
    if _DIFFERENTIAL.fullmatch(left):
        return "differential"
    if let or _BARE.fullmatch(left):
        return "let"
    if not _INTEGRAL.search(left) and _WITH_DIFFERENTIAL.fullmatch(left):
        return "differential"
    return None


def _depths(text: str) -> list[int]:
    """How deep in brackets each offset is."""
    return list(accumulate(((char in "([{") - (char in ")]}") for char in text), initial=0))
