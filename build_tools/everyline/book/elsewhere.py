"""The same work on other processes or machines: any executor of `concurrent.futures` takes it, in batches.

An executor cannot stop a running task. So the hard limits are kept where the work is done: each batch runs in a killable process
that the task starts there.
"""

from __future__ import annotations

import multiprocessing
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor
from itertools import islice
from typing import TYPE_CHECKING, Any, TypeVar

from .workers import Limits, Overrun, run

if TYPE_CHECKING:
    from concurrent.futures import Future

Item = TypeVar("Item")
Result = TypeVar("Result")
#: A task costs a cluster some 10 ms: so not one for each item. Twice as many batches wait as are worked on.
BATCH = 25


def run_on(
    executor: Executor, function: Callable[[Item], Result], items: Iterable[Item], *, limits: Limits | None = None, ahead: int = 64
) -> Iterator[Result | Overrun]:
    """As `workers.run`: the function applied to every item, in order, as results become ready; an overrun harms only itself.

    `ahead` is how many batches are handed over before the first is back.
    """
    source = iter(items)
    batches = iter(lambda: tuple(islice(source, BATCH)), ())
    waiting: deque[Future[list[Any]]] = deque()
    try:
        for batch in batches:
            waiting.append(executor.submit(work, function, batch, limits or Limits()))
            if len(waiting) >= ahead:
                yield from waiting.popleft().result()
        while waiting:
            yield from waiting.popleft().result()
    finally:
        for future in waiting:
            future.cancel()


def work(function: Callable[[Any], Any], batch: tuple[Any, ...], limits: Limits) -> list[Any]:
    """A batch, where the executor runs it."""
    # The processes of a cluster are daemons, which may not have children. Ours end with their parent by themselves (`workers._prepare`).
    settings: dict[str, Any] = getattr(multiprocessing.current_process(), "_config", {})
    daemon = settings.pop("daemon", None)
    try:
        return list(run(function, batch, limits=limits, fresh=True))
    finally:
        if daemon is not None:
            settings["daemon"] = daemon


def dask(address: str) -> Executor:
    """The executor of a Dask cluster.

    Raises:
        ValueError: Dask is not installed (the extra `everyline[dask]`), or nothing answers at the address.
    """
    try:
        from distributed import Client
    except ImportError:
        raise ValueError("--dask needs the extra: pip install 'everyline[dask]'") from None
    try:
        # not pure: equal calls are to be made all the same, for a result says how long it took
        made: Executor = Client(address, timeout="10s").get_executor(pure=False)
    except (OSError, ValueError) as error:
        raise ValueError(f"no Dask cluster answers at {address}: {error}") from None
    return made
