"""What several commands share: exit codes, common arguments, complaints about a call."""

from __future__ import annotations

import argparse
import os
import shutil
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from ..language import Tell

#: What `add_subparsers` gives; quoted, for argparse's class cannot be subscripted when it runs.
Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"
RIGHT, WRONG, MISUSED = 0, 1, 2


def common(command: argparse.ArgumentParser) -> None:
    command.add_argument("--given", help="parameters and what is assumed of them, such as 'a > 0'")
    command.add_argument("--jsonl", metavar="FILE", help="rows of JSON, one a line (- is standard input, also when nothing else is given)")
    command.add_argument("--log", choices=("natural", "10", "ask"), default="ask", help="what log without a base means")
    command.add_argument("--seconds", type=float, default=10.0, help="the most that one row may take (default: 10)")
    command.add_argument("--workers", type=count, default=1, metavar="N", help="processes that work at once")


def count(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 256:
        raise argparse.ArgumentTypeError("a whole number from 1 to 256")
    return int(text)


def coloured() -> bool:
    """Whether what is printed may have colours: for a terminal whose owner did not set NO_COLOR (no-color.org: to anything but nothing)."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def width() -> int:
    """How many characters a line of the terminal has, within what can be read."""
    return max(40, min(120, shutil.get_terminal_size((100, 24)).columns))


def agreed(question: str, tell: Tell) -> bool:
    """Whether a person says yes, in the language of the book or in English."""
    answer = input(tell("{question} (y/n) ", question=question)).strip().lower()
    return answer in ("y", "yes", tell("y"), tell("yes"))


#: The forms of what is written, by how the name of its file ends.
_FORMS = {".pdf": "pdf", ".tex": "tex", ".md": "md", ".txt": "text"}


def form_of(options: argparse.Namespace, forms: tuple[str, ...]) -> str:
    """The form that is asked for: by `--format`, else by the end of the name in `--out`, else the first of `forms`.

    Raises:
        ValueError: the name says none of the forms, or a PDF has none.
    """
    if options.out is None:
        if (options.format or forms[0]) == "pdf":
            raise ValueError("a PDF needs a name: --out FILE.pdf")
        return str(options.format or forms[0])
    named = _FORMS.get(Path(options.out).suffix.lower())
    if options.format is None and named not in forms:
        ends = ", ".join(end for end, form in _FORMS.items() if form in forms)
        raise ValueError(f"{options.out}: give a name that ends in one of {ends}, or say the --format")
    return str(options.format or named)


def unused(files: Iterable[Path], *, over: bool) -> None:
    """See that nothing is lost where these files are written.

    Raises:
        ValueError: one of them is there, and nobody asked to write over it.
    """
    there = [file for file in files if file.exists() and not over]
    if there:
        raise ValueError(f"{there[0]} is there already; give --replace to write over it, or another name with --out")


def failed(error: OSError | ValueError, place: str | Path) -> int:
    """A file or folder (`place`, unless the error names one) could not be read or written, or its content not be used."""
    if not isinstance(error, OSError) or (error.errno is None and not error.strerror):
        return misused(str(error))
    path = Path(error.filename or place)
    if isinstance(error, FileNotFoundError):
        return misused(f"{path} is not there" if path.parent.is_dir() else f"the folder {path.parent} is not there; make it first")
    return misused(f"{path}: {error.strerror}")


def misused(why: str) -> int:
    print(f"everyline: {why}", file=sys.stderr)
    return MISUSED
