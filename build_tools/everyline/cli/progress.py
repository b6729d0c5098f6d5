"""A line that grows while a long check runs, for people only."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

_WIDTH = 30
_AFTER, _BETWEEN = 1.0, 0.1


def bar(quiet: bool = False) -> Callable[[int, int], None]:
    """What to call with how many are done, and of how many. Silent where nobody looks, and for the first second."""
    if quiet or not sys.stderr.isatty():
        return lambda done, of: None
    start = shown = time.monotonic()

    def show(done: int, of: int) -> None:
        nonlocal shown
        now = time.monotonic()
        if done == of and shown > start:
            print("\r\033[K", end="", file=sys.stderr, flush=True)
        elif now - start > _AFTER and now - shown > _BETWEEN:
            shown = now
            full = _WIDTH * done // max(of, 1)
            print(f"\r{'█' * full}{'·' * (_WIDTH - full)} {done} of {of} problems", end="", file=sys.stderr, flush=True)

    return show
