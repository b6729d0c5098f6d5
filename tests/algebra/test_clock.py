"""Time for a search is time of the processor: what a busy machine finds is what an idle one finds."""

from __future__ import annotations

import time

import pytest

from everyline.algebra.clock import Stopped, left, until, watch


def test_time_in_which_others_are_at_work_does_not_count() -> None:
    with until(time.process_time() + 0.1):
        time.sleep(0.2)
        watch()


def work() -> None:
    while left() > 0:
        sum(range(1000))


def test_work_counts_and_the_earlier_of_two_ends_holds() -> None:
    with until(time.process_time() + 0.05), until(time.process_time() + 60), pytest.raises(Stopped):
        work()
