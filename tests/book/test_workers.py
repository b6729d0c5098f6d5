"""Work that is run in killable processes: in order, one limit for each item, nobody harmed by a neighbour."""

from __future__ import annotations

import mmap
import os
import sys
import time

import pytest

from everyline.book.workers import Limits, Overrun, run


def _work(item: str) -> str:
    match item:
        case "sleeps":
            time.sleep(30)
        case "eats":
            bytearray(3 * 2**30)
        case "dies":
            os._exit(3)
        case "raises":
            raise KeyError("a fault of ours")
    return item.upper()


def test_results_come_in_order_and_an_overrun_harms_only_itself() -> None:
    items = ["a", "sleeps", "b", "eats", "c", "dies", "d", "raises", "e"]
    results = list(run(_work, items, workers=2, limits=Limits(seconds=1.0, memory=2**31)))
    fault = Overrun("fault", "KeyError: 'a fault of ours'")
    assert results == ["A", Overrun("time"), "B", Overrun("memory"), "C", Overrun("crash"), "D", fault, "E"]


def test_each_answer_comes_while_the_next_item_is_still_being_written() -> None:
    answered: list[str] = []

    def typed():  # type: ignore[no-untyped-def]
        for word in ("first", "second"):
            deadline = time.monotonic() + 10
            while word == "second" and not answered and time.monotonic() < deadline:
                time.sleep(0.01)
            yield word if word == "first" or answered else "too late"

    for result in run(_work, typed()):
        answered.append(str(result))
    assert answered == ["FIRST", "SECOND"]


def test_an_error_of_the_producer_reaches_the_consumer() -> None:
    def broken():  # type: ignore[no-untyped-def]
        yield "a"
        raise OSError("the file went away")

    results = run(_work, broken())
    assert next(results) == "A"
    with pytest.raises(OSError, match="went away"):
        next(results)


@pytest.mark.skipif(sys.platform != "linux", reason="address space is measured on Linux only")
def test_empty_room_that_the_parent_has_mapped_costs_the_workers_nothing() -> None:
    with mmap.mmap(-1, 3 * 2**30):
        assert list(run(_work, ["a", "eats"], limits=Limits(seconds=20.0, memory=2**30))) == ["A", Overrun("memory")]
