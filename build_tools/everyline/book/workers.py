"""Running untrusted work in processes that can be killed: one hard time and memory limit for each item.

FLINT cannot be interrupted from inside its process, so only a parent that kills a worker keeps a promise about time.
"""

from __future__ import annotations

import multiprocessing
import os
import queue
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Sized
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pebble import ProcessExpired, ProcessFuture, ProcessPool

Item = TypeVar("Item")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Limits:
    """What one item may use: wall-clock seconds and bytes of address space beyond those that a worker begins with.

    A family, which is sixteen problems, takes up to ten seconds alone on a core; a machine may have a dozen things to do for each core.
    """

    seconds: float = 180.0
    memory: int = 2**31


@dataclass(frozen=True, slots=True)
class Overrun:
    """An item that used up its `what` (`time`, `memory`), whose worker died (`crash`), or that met a `fault` of ours (see `detail`)."""

    what: str
    detail: str = ""


def _prepare(parent: int, memory: int) -> None:
    """In a new worker: leave Ctrl-C to the parent, take the memory limit, and end when the parent is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if sys.platform != "win32":
        import resource

        # a forked worker begins with all that its parent has mapped, which a library may make gigabytes of empty room
        limit = _mapped() + memory
        resource.setrlimit(resource.RLIMIT_AS, (limit, limit))

        def follow() -> None:
            while os.getppid() == parent:
                time.sleep(1.0)
            os._exit(1)

        threading.Thread(target=follow, daemon=True).start()


def _mapped() -> int:
    """Bytes of address space that this process has; 0 where the system does not say (proc_pid_statm(5): the first number, in pages)."""
    try:
        return int(Path("/proc/self/statm").read_text().split()[0]) * os.sysconf("SC_PAGE_SIZE")
    except (OSError, ValueError):
        return 0


def _context(fresh: bool) -> Any:
    """Fork where it is safe and fast (Linux), else a fresh interpreter."""
    return multiprocessing.get_context("fork" if sys.platform == "linux" and not fresh else "spawn")


def _collect(future: ProcessFuture[Any]) -> Any:
    try:
        return future.result()
    except TimeoutError:
        return Overrun("time")
    except MemoryError:
        return Overrun("memory")
    except ProcessExpired:
        return Overrun("crash")
    except Exception as error:  # a fault of the program in one item must not lose the others
        return Overrun("fault", f"{type(error).__name__}: {error}")


def run(
    function: Callable[[Item], Result], items: Iterable[Item], *, workers: int = 1, limits: Limits | None = None, fresh: bool = False
) -> Iterator[Result | Overrun]:
    """The function applied to every item, in order, as results become ready.

    Items are read while earlier ones are still running, so a slow producer (a person at a keyboard) gets each
    answer at once. An item that overruns gives an `Overrun`; the others are not harmed. `function` must be importable.
    `fresh` workers do not begin as copies of this process, which may be full of another's threads.
    """
    limits = limits or Limits()
    workers = max(1, min(workers, len(items))) if isinstance(items, Sized) else workers
    pending: queue.Queue[ProcessFuture[Any] | BaseException | None] = queue.Queue(maxsize=8 * workers)
    stopping = threading.Event()
    pool = ProcessPool(max_workers=workers, context=_context(fresh), initializer=_prepare, initargs=[os.getpid(), limits.memory])

    def offer(entry: ProcessFuture[Any] | BaseException | None) -> None:
        while not stopping.is_set():
            try:
                return pending.put(entry, timeout=0.2)
            except queue.Full:
                continue

    def feed() -> None:
        try:
            for item in items:
                if stopping.is_set():
                    return
                offer(pool.schedule(function, args=[item], timeout=limits.seconds))
            offer(None)
        except BaseException as error:  # handed to the consumer, which raises it
            offer(error)

    threading.Thread(target=feed, daemon=True).start()
    try:
        while (entry := pending.get()) is not None:
            if isinstance(entry, BaseException):
                raise entry
            yield _collect(entry)
    finally:
        stopping.set()
        pool.stop()  # type: ignore[no-untyped-call]
        pool.join()
