"""`everyline why`: what a code means and how to mend it."""

from __future__ import annotations

import argparse
from pathlib import Path

from .books import language_of
from .shared import RIGHT, Commands, misused


def add(commands: Commands) -> None:
    why = commands.add_parser("why", help="what a code of a fault means, and how to mend it")
    why.add_argument("code", nargs="?", help="such as key-wrong; left out: all of them")
    why.add_argument("--book", default="content", metavar="DIR", help="the book whose language is spoken (default: content)")
    why.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..diagnostics import codes, kind
    from ..language import translator
    from ..render.manual import explanation
    from ..source.fields import nearest

    tell = translator(language_of(Path(options.book)))
    if options.code is None:
        print("\n".join(f"{code:<26}{tell(kind(code).title)}" for code in codes()))
        return RIGHT
    if options.code not in codes():
        meant = nearest(options.code, codes())
        return misused(f"no fault has the code {options.code}" + (f"; did you mean {meant}?" if meant else ""))
    print(explanation(kind(options.code), tell))
    return RIGHT
