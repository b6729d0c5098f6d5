"""Suggested replacements put into the files, each file examined again before anything is offered."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from ..diagnostics import Diagnostic
from ..diagnostics.diagnostic import Replacement
from ..source.load import BOOK_FILE, Sources
from ..source.span import Lines, Place
from ..source.traps import in_single_quotes

_MARK = b"\xef\xbb\xbf"
Check = Callable[[Sources, frozenset[str]], tuple[Diagnostic, ...]]


@dataclass(frozen=True, slots=True)
class Mended:
    """A file before and after its replacements, and the faults that they mend."""

    path: str
    before: bytes
    after: bytes
    faults: tuple[Diagnostic, ...]


def mendings(sources: Sources, diagnostics: Iterable[Diagnostic], check: Check) -> tuple[Mended, ...]:
    """For every file with suggested replacements what it would become: only where `check` finds it better for them.

    `check` gives the diagnostics of some files (by path) of sources.
    """
    by_path: dict[str, list[Diagnostic]] = {}
    for fault in diagnostics:
        if fault.labels:
            by_path.setdefault(fault.labels[0].span.path, []).append(fault)
    wanted = {path: faults for path, faults in by_path.items() if any(fault.replacement for fault in faults)}
    found: dict[str, Mended] = {}
    for quoted in (False, True):
        tried = {
            path: made for path, faults in wanted.items() if path not in found and (made := _tried(sources, path, faults, quoted=quoted))
        }
        after = check(_with(sources, {path: made.after for path, made in tried.items()}), frozenset(tried)) if tried else ()
        for path, made in tried.items():
            if _better(wanted[path], [fault for fault in after if fault.labels and fault.labels[0].span.path == path], made):
                found[path] = made
    return tuple(found[path] for path in wanted if path in found)


def _tried(sources: Sources, path: str, faults: Iterable[Diagnostic], *, quoted: bool) -> Mended | None:
    data = sources.data(path)
    suggested = [fault for fault in faults if fault.replacement]
    after = None if data is None else rewritten(data, [fault.replacement for fault in suggested if fault.replacement], quoted=quoted)
    return None if data is None or after is None or after == data else Mended(path, data, after, tuple(suggested))


def _better(before: list[Diagnostic], after: list[Diagnostic], made: Mended) -> bool:
    """The mended faults are gone, and nothing as bad has come in their place."""
    mended = {(fault.code, fault.headline) for fault in made.faults}
    return not mended & {(fault.code, fault.headline) for fault in after} and _weight(after) <= _weight(before)


def _weight(faults: Iterable[Diagnostic]) -> tuple[int, int]:
    severities = [fault.severity for fault in faults]
    return severities.count("error"), severities.count("warning")


def rewritten(data: bytes, replacements: Iterable[Replacement], *, quoted: bool) -> bytes | None:
    """The bytes of a file with the replacements made; line ends and everything else stay. None where it is not UTF-8.

    `quoted`: values are written as the quotes around them ask, or get quotes where there are none. Of replacements that overlap the
    first is made.
    """
    mark = _MARK if data.startswith(_MARK) else b""
    try:
        text = data.removeprefix(_MARK).decode("utf-8")
    except UnicodeDecodeError:
        return None
    lines = Lines("", text)
    places = sorted((_offset(lines, each.span.start), _offset(lines, each.span.end), each.text) for each in replacements)
    out, done = [], 0
    for start, end, new in places:
        if start < done or end < start:
            continue
        out += [text[done:start], _in_quotes(new, text[start - 1 : start], text[end : end + 1]) if quoted else new]
        done = end
    return mark + "".join([*out, text[done:]]).encode("utf-8")


def _offset(lines: Lines, place: Place) -> int:
    return lines.bounds(place.line)[0] + place.column - 1


def _in_quotes(value: str, before: str, after: str) -> str:
    if before == after == "'":
        return value.replace("'", "''")
    if before == after == '"':
        return value.replace("\\", "\\\\").replace('"', '\\"')
    return in_single_quotes(value)


def _with(sources: Sources, changed: Mapping[str, bytes]) -> Sources:
    """The sources with other bytes in some files."""

    def changed_in(files: Mapping[str, bytes]) -> dict[str, bytes]:
        return {path: changed.get(path, data) for path, data in files.items()}

    return replace(
        sources,
        problems=changed_in(sources.problems),
        chapters=changed_in(sources.chapters),
        composed=changed_in(sources.composed),
        conventions=changed.get(BOOK_FILE, sources.conventions),
    )
