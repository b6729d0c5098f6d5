"""Writing a problem file: the opposite of reading one, and checked by reading it again."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

from .faults import Fault
from .problem import Problem
from .reading import read_problem
from .traps import in_single_quotes

Value = str | Sequence[str]
#: Names that Windows keeps for devices (Microsoft, “Naming Files, Paths, and Namespaces”), and the chapter's own file.
_TAKEN = frozenset(("index", "con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))))


class Unwritable(ValueError):
    """The values cannot stand in a problem file; `fault` says which and why (None: one of them does not come back as it was)."""

    def __init__(self, fault: Fault | None) -> None:
        super().__init__("this cannot be written as a problem file")
        self.fault = fault


def write_problem(path: str, fields: Iterable[tuple[str, Value]], techniques: Iterable[str] | None = None) -> tuple[bytes, Problem]:
    """A problem file with these fields in this order, and what it reads as. Empty values are left out; quotes stand where they must.

    Raises:
        Unwritable: the reader would refuse the file, or read another value than the one given.
    """
    said = [(name, value if isinstance(value, str) else [_line(item) for item in value]) for name, value in fields if value]
    given = [(name, _line(value) if isinstance(value, str) else value) for name, value in said]
    lines = ["---"]
    for name, value in given:
        if isinstance(value, str):
            lines.append(f"{name}: {_scalar(value)}")
        else:
            lines += [f"{name}:", *(f"  - {_scalar(item)}" for item in value)]
    data = "\n".join([*lines, "---", ""]).encode("utf-8", "replace")
    read = read_problem(path, data, None if techniques is None else frozenset(techniques))
    if read.problem is None or read.faults:
        raise Unwritable(read.faults[0] if read.faults else None)
    if any(_values(read.problem, name) != ([value] if isinstance(value, str) else value) for name, value in given):
        raise Unwritable(None)
    return data, read.problem


def _line(text: str) -> str:
    """One line: no breaks, no characters that are not seen."""
    return " ".join("".join(" " if unicodedata.category(char) in {"Cc", "Cf", "Cs", "Zl", "Zp"} else char for char in text).split())


def _scalar(value: str) -> str:
    """The value as it is if it is read back as it is, else in single quotes."""
    if re.match(r"[\w\\(]", value):
        read = read_problem("", f"---\nquestion: {value}\nkey:\n  - {value}\n---\n".encode("utf-8", "replace"))
        if read.problem is not None and not read.faults and read.problem.question.value == read.problem.keys[0].value == value:
            return value
    return in_single_quotes(value)


def _values(problem: Problem, name: str) -> list[str]:
    if name == "key":
        return [text.value for text in problem.keys]
    found = getattr(problem, name)
    if isinstance(found, tuple):
        return [text.value for text in found]
    return [] if found is None else [str(found) if isinstance(found, int) else found.value]


def file_name(text: str) -> str:
    """A name for a file, from words: ASCII letters, digits and hyphens, at most 60 of them; never empty, never a name that is taken."""
    ascii_ = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    name = re.sub(r"[^a-z0-9]+", "-", ascii_).strip("-")[:60].rstrip("-")
    return f"problem-{name}".rstrip("-") if not name or name in _TAKEN else name
