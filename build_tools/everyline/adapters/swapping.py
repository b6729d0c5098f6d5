"""A site that is whole at every moment: the new one is written beside the old one and takes its place when it is complete."""

from __future__ import annotations

import contextlib
import ctypes
import os
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path

from .placing import Placing

_HERE, _EXCHANGE = -100, 2  # AT_FDCWD and RENAME_EXCHANGE of renameat2(2)


@dataclass(frozen=True, slots=True)
class Whole:
    """A site that is built as a whole, at `site`."""

    site: Path

    def begin(self) -> Path:
        """Where the build is to be written."""
        return beside(self.site)

    def drop(self) -> None:
        """What was written of a build that failed is taken away."""
        shutil.rmtree(_new(self.site), ignore_errors=True)

    def finish(self, placing: Placing) -> Path:
        """The build, with its placed pages, becomes the site; where it is then."""
        placing.write(_new(self.site))
        return swap(_new(self.site), self.site)


def beside(site: Path) -> Path:
    """Where the new site is written. What a killed run left behind is put right first."""
    old = _old(site)
    if old.is_dir() and not site.exists():
        old.rename(site)
    shutil.rmtree(old, ignore_errors=True)
    return _new(site)


def swap(new: Path, site: Path) -> Path:
    """The new site takes the old one's place. What is hidden in the old one (a `.git`, say) is not ours and stays."""
    if not site.exists():
        return new.rename(site)
    for entry in site.iterdir():
        if entry.name.startswith(".") and not (new / entry.name).exists():
            entry.rename(new / entry.name)
    if not _exchanged(new, site):
        site.rename(_old(site))
        new.rename(site)
    shutil.rmtree(new, ignore_errors=True)
    shutil.rmtree(_old(site), ignore_errors=True)
    return site


def _new(site: Path) -> Path:
    return site.with_name(f".{site.name}.new")


def _old(site: Path) -> Path:
    return site.with_name(f".{site.name}.old")


def _exchanged(one: Path, other: Path) -> bool:
    """Two folders change places in one step, where the system can do that; elsewhere, for a moment, neither is there."""
    if sys.platform != "linux":
        return False
    with contextlib.suppress(OSError, AttributeError):
        rename = ctypes.CDLL(None).renameat2
        return bool(rename(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _EXCHANGE) == 0)
    return False
