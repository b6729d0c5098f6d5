"""`everyline mend`: suggested replacements, shown, and made after a yes. Every file is checked again before it is offered."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from .books import book_of, shown_root
from .shared import RIGHT, WRONG, Commands, coloured, count, misused

if TYPE_CHECKING:
    from ..book.mending import Mended
    from ..diagnostics import Diagnostic
    from ..source.load import Sources

#: A mended name can bring to light what was hidden behind it: so often is looked again.
_ROUNDS = 4


def add(commands: Commands) -> None:
    mend = commands.add_parser("mend", help="make the replacements that check suggests, after showing them")
    mend.add_argument("paths", nargs="*", metavar="PATH", help="a book's folder, or files and folders in it (default: content)")
    mend.add_argument("-y", "--yes", action="store_true", help="make them all without asking")
    mend.add_argument("--workers", type=count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    mend.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..diagnostics.formats.text import summary
    from ..source.load import load

    refused: set[str] = set()
    made = 0
    try:
        root, only = book_of([Path(path) for path in options.paths])
        for _ in range(_ROUNDS):
            sources = load(root)
            faults = _faults(root, sources, only, options.workers)
            offered = [each for each in _offers(root, sources, faults, options.workers) if each.path not in refused]
            accepted = [each for each in offered if _accepted(each, root, options)]
            refused |= {each.path for each in offered if each not in accepted}
            saved = [each for each in accepted if _saved(each, root)]
            refused |= {each.path for each in accepted if each not in saved}
            made += len(saved)
            if not saved:
                break
    except (OSError, ValueError) as error:
        return misused(str(error))
    except EOFError:
        return misused("nothing more was changed: the question was not answered")
    print(f"{made} file{'' if made == 1 else 's'} mended. What is left: {summary(faults)}")
    return WRONG if any(fault.severity == "error" for fault in faults) else RIGHT


def _faults(root: Path, sources: Sources, only: list[str] | None, workers: int) -> tuple[Diagnostic, ...]:
    from ..book import build
    from ..book.memory import memory_of

    return build(sources, workers=workers, only=only, memory=memory_of(root)).diagnostics


def _offers(root: Path, sources: Sources, faults: tuple[Diagnostic, ...], workers: int) -> tuple[Mended, ...]:
    from ..book.mending import mendings

    return mendings(sources, faults, lambda changed, paths: _faults(root, changed, sorted(paths), workers))


def _accepted(mended: Mended, root: Path, options: argparse.Namespace) -> bool:
    from ..render.difference import difference

    print(difference(shown_root(root) + mended.path, mended.before, mended.after, colour=coloured()))
    print("".join(f"  {fault.headline}\n" for fault in mended.faults))
    return bool(options.yes) or input("Make this change? (y/n) ").strip().lower() in ("y", "yes")


def _saved(mended: Mended, root: Path) -> bool:
    """Write the file, unless somebody else has changed it since it was read."""
    from ..source.save import save_over

    file = root / mended.path
    if file.read_bytes() != mended.before:
        print(f"{file} was changed in the meantime and is left alone.", file=sys.stderr)
        return False
    save_over(file, mended.after)
    return True
