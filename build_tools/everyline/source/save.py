"""Writing files so that nothing is ever lost or half there: whole or not at all, and never over another by accident."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path


def save_new(path: Path, data: bytes) -> None:
    """Write a file that is not there yet, whole or not at all. Raises FileExistsError where there is one, OSError as writing does."""
    part = _part(path, data)
    try:
        os.link(part, path)  # unlike a renaming, this fails where the name is taken
    except (AttributeError, NotImplementedError, PermissionError, OSError) as error:
        if isinstance(error, FileExistsError):
            raise
        _save_exclusively(path, data)
    finally:
        with suppress(OSError):
            part.unlink()


def save_over(path: Path, data: bytes) -> None:
    """Put new content in the place of a file (or make it), whole or not at all; its permissions stay."""
    path = path.resolve()
    part = _part(path, data)
    try:
        if path.exists():
            part.chmod(path.stat().st_mode & 0o7777)
        part.replace(path)
    except BaseException:
        with suppress(OSError):
            part.unlink()
        raise


def _part(path: Path, data: bytes) -> Path:
    """The data in a file beside the place where it is to be, with the permissions of a new file."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name[:40]}.", dir=path.parent)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        mask = os.umask(0)
        os.umask(mask)
        part.chmod(0o666 & ~mask)
    except BaseException:
        with suppress(OSError):
            part.unlink()
        raise
    return part


def _save_exclusively(path: Path, data: bytes) -> None:
    """Where a file system knows no second name for a file: made only if it is not there, taken away again if it cannot be filled."""
    with path.open("xb") as stream:
        try:
            stream.write(data)
        except BaseException:
            with suppress(OSError):
                path.unlink()
            raise
