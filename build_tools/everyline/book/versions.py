"""What a kept result depends on besides the problem: our own code and the libraries under it."""

from __future__ import annotations

import functools
import hashlib
import sys
from importlib import metadata, resources

_LIBRARIES = ("python-flint", "sympy", "pyyaml", "markdown", "math-core", "pymdown-extensions")
#: Code that no result depends on: it only hands results on.
_OUTSIDE = ("cli", "adapters")


@functools.cache
def code() -> str:
    """A digest of every file of ours that a result or a page depends on, of the libraries' versions and of Python's."""
    said = hashlib.sha256(repr((sys.version, [(name, _version(name)) for name in _LIBRARIES])).encode())
    root = resources.files(__package__.partition(".")[0])
    with resources.as_file(root) as folder:
        for file in sorted(folder.rglob("*")):
            name = file.relative_to(folder).as_posix()
            if file.is_file() and file.suffix != ".pyc" and name.partition("/")[0] not in _OUTSIDE:
                data = file.read_bytes()
                said.update(b"%s %d " % (name.encode(), len(data)) + data)
    return said.hexdigest()


def _version(library: str) -> str:
    try:
        return metadata.version(library)
    except metadata.PackageNotFoundError:
        return ""
