"""`everyline mend`: suggested replacements, shown, and made after a yes. Every file is checked again before it is offered."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from .books import book_of, language_of, shown_root
from .shared import RIGHT, WRONG, Commands, agreed, coloured, count, failed, misused

if TYPE_CHECKING:
    from ..book.mending import Mended
    from ..diagnostics import Diagnostic
    from ..language import Tell
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
    from ..language import translator
    from ..source.load import load

    refused: set[str] = set()
    made = 0
    try:
        root, only = book_of([Path(path) for path in options.paths])
        tell = translator(language_of(root))
        for _ in range(_ROUNDS):
            sources = load(root)
            faults = _faults(root, sources, only, options.workers)
            offered = [each for each in _offers(root, sources, faults, options.workers) if each.path not in refused]
            accepted = [each for each in offered if _accepted(each, root, options, tell)]
            refused |= {each.path for each in offered if each not in accepted}
            saved = [each for each in accepted if _saved(each, root, tell)]
            refused |= {each.path for each in accepted if each not in saved}
            made += len(saved)
            if not saved:
                break
    except (OSError, ValueError) as error:
        return failed(error, "content")
    except EOFError:
        return misused("nothing more was changed: the question was not answered")
    count = tell("{count} file mended." if made == 1 else "{count} files mended.", count=made)
    print(tell("{count} What is left: {summary}", count=count, summary=summary(faults, tell)))
    return WRONG if any(fault.severity == "error" for fault in faults) else RIGHT


def _faults(root: Path, sources: Sources, only: list[str] | None, workers: int) -> tuple[Diagnostic, ...]:
    from ..book import build
    from ..book.memory import memory_of

    return build(sources, workers=workers, only=only, memory=memory_of(root)).diagnostics


def _offers(root: Path, sources: Sources, faults: tuple[Diagnostic, ...], workers: int) -> tuple[Mended, ...]:
    from ..book.mending import mendings

    return mendings(sources, faults, lambda changed, paths: _faults(root, changed, sorted(paths), workers))


def _accepted(mended: Mended, root: Path, options: argparse.Namespace, tell: Tell) -> bool:
    from ..diagnostics import told
    from ..render.difference import difference

    print(difference(shown_root(root) + mended.path, mended.before, mended.after, colour=coloured()))
    print("".join(f"  {told(fault.headline, tell)}\n" for fault in mended.faults))
    return bool(options.yes) or agreed(tell("Make this change?"), tell)


def _saved(mended: Mended, root: Path, tell: Tell) -> bool:
    """Write the file, unless somebody else has changed it since it was read."""
    from ..source.save import save_over

    file = root / mended.path
    if file.read_bytes() != mended.before:
        print(tell("{file} was changed in the meantime and is left alone.", file=file), file=sys.stderr)
        return False
    save_over(file, mended.after)
    return True
