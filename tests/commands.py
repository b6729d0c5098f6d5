"""`everyline` as a person calls it: a process of its own, with what it says."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path


def everyline(root: Path, *arguments: str, given: str = "", seconds: float = 120.0) -> subprocess.CompletedProcess[str]:
    """The command in the folder `root`, with `given` on its standard input; what it writes is UTF-8 on every system."""
    return subprocess.run(
        [sys.executable, "-m", "everyline.cli", *arguments],
        cwd=root,
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
        input=given,
        capture_output=True,
        encoding="utf-8",
        check=False,
        timeout=seconds,
    )
