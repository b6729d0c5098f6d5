"""The site that a server shows: kept from one build to the next, so that a save costs what it changes."""

from __future__ import annotations

import contextlib
import os
import shutil
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import jinja2

from .placing import Placing

#: Where a build is written, inside the served folder: it goes when that goes, and who tidies a site leaves what is hidden.
_NEW = ".new"


class Compiled(jinja2.BytecodeCache):
    """Templates that were compiled for an earlier build, by what was in them. In memory: nothing of it is ever read from a disk."""

    def __init__(self) -> None:
        self.known: dict[tuple[str, str], Any] = {}

    def load_bytecode(self, bucket: Any) -> None:
        bucket.code = self.known.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Any) -> None:
        self.known[bucket.key, bucket.checksum] = bucket.code


@dataclass(slots=True)
class Live:
    """The folder of a server, `site`, with the files that are in it and the pages that were placed there last."""

    site: Path
    files: frozenset[str] = frozenset()
    placed: Placing | None = None
    compiled: Compiled = field(default_factory=Compiled)

    def begin(self) -> Path:
        """Where the build is to be written."""
        return self.site / _NEW

    def drop(self) -> None:
        """What was written of a build that failed is taken away."""
        shutil.rmtree(self.begin(), ignore_errors=True)

    def finish(self, placing: Placing) -> Path:
        """What is new or gone in the build, and in its placed pages, is so in the site too."""
        made = self.begin()
        built = {path.relative_to(made).as_posix() for path in made.rglob("*") if path.is_file()}
        files = built | set(placing.files())
        before, gone = self.placed, self.files - files
        self.files, self.placed = self.files | files, None  # what is known should this be broken off
        for name in gone:
            (self.site / name).unlink(missing_ok=True)
            with contextlib.suppress(OSError):  # not empty
                os.removedirs((self.site / name).parent)
        for name in built:
            (self.site / name).parent.mkdir(parents=True, exist_ok=True)
            (made / name).replace(self.site / name)
        placing.write(self.site, before)
        self.drop()
        self.files, self.placed = frozenset(files), placing
        return self.site
