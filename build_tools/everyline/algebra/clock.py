"""A time by which the work in hand must end, for the long loops of algebra that know nothing of a search and its budget.

It is time of the processor, so that a busy machine finds what an idle one finds; the worker around it is killed by the clock on the wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from time import process_time


class Stopped(Exception):
    """What was allowed is used up."""


_END: ContextVar[float] = ContextVar("end", default=float("inf"))


@contextmanager
def until(end: float) -> Iterator[None]:
    """Within this block `watch` raises once `process_time()` is past `end`; of two nested blocks the earlier end counts."""
    token = _END.set(min(end, _END.get()))
    try:
        yield
    finally:
        _END.reset(token)


def left() -> float:
    """Seconds to the end, infinite where none is set.

    Raises:
        Stopped: none are left.
    """
    seconds = _END.get() - process_time()
    if seconds <= 0:
        raise Stopped
    return seconds


def watch() -> None:
    """Called where much work may follow.

    Raises:
        Stopped: the time is up.
    """
    left()
