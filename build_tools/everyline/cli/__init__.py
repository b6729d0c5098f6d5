"""The command line: arguments in, exit codes out. One module a command; what a command does lives in the rooms below."""

from __future__ import annotations

import argparse
import importlib
import os
import pkgutil
import sys
from collections.abc import Sequence
from importlib import metadata

from .shared import WRONG


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code says whether all is right (0), something is wrong (1) or the call was (2)."""
    options = parser().parse_args(arguments)
    try:
        return int(options.run(options))
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - what reads our output has gone
        return WRONG
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return 130


def parser() -> argparse.ArgumentParser:
    """Every module here with an `add` brings a command."""
    made = argparse.ArgumentParser(prog="everyline", description="A practice book for calculus whose every line is checked.")
    made.add_argument("--version", action="version", version=f"%(prog)s {metadata.version('everyline')}")
    commands = made.add_subparsers(required=True, metavar="COMMAND")
    for found in sorted(pkgutil.iter_modules(__path__), key=lambda module: module.name):
        add = getattr(importlib.import_module(f".{found.name}", __name__), "add", None)
        if add is not None:
            add(commands)
    return made
