"""Mixed practice: no two neighbours begin with the same technique.

That mixing helps students to choose a method, and what it means, is from Rohrer, Dedrick, Hartwig & Cheung (2019), "A randomized
controlled trial of interleaved mathematics practice", Journal of Educational Psychology 112(1).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from random import Random
from typing import TypeVar

T = TypeVar("T")


def neighbours_alike(beginnings: Sequence[str]) -> int | None:
    """The position of the first item that begins as the one before it does; None where the rule holds."""
    return next((n for n in range(1, len(beginnings)) if beginnings[n] == beginnings[n - 1]), None)


def too_many(beginnings: Sequence[str]) -> str | None:
    """The beginning that is too frequent to be kept apart: more than half of the items, rounded up. None where an order exists."""
    name, number = Counter(beginnings).most_common(1)[0] if beginnings else ("", 0)
    return name if number > (len(beginnings) + 1) // 2 else None


def mixed(items: Sequence[T], beginning: Callable[[T], str], random: Random) -> tuple[T, ...]:
    """The items in a random order in which no two neighbours begin alike.

    Each place is given to any item that leaves the rest in reach of such an order: of n items still to be placed, at most half
    (rounded down) may begin as the last one does and at most half (rounded up) in any other one way.

    Raises:
        ValueError: there is no such order (see `too_many`).
    """
    left: dict[str, list[T]] = {}
    for item in random.sample(list(items), len(items)):
        left.setdefault(beginning(item), []).append(item)
    placed: list[T] = []
    last = ""
    while left:
        open_to = [name for name in left if name != last and _in_reach(left, name)]
        if not open_to:
            raise ValueError("more than half of the items begin alike")
        last = random.choices(open_to, [len(left[name]) for name in open_to])[0]
        placed.append(left[last].pop())
        if not left[last]:
            del left[last]
    return tuple(placed)


def _in_reach(left: dict[str, list[T]], taken: str) -> bool:
    rest = sum(map(len, left.values())) - 1
    return all(
        len(items) - (name == taken) <= (rest // 2 if name == taken else (rest + 1) // 2)
        for name, items in left.items()
    )  # fmt: skip


def spread(items: Sequence[T], beginning: Callable[[T], str], count: int, random: Random) -> tuple[T, ...]:
    """`count` of the items at random, taken from the beginnings in turn so that each has as equal a share as there are items for."""
    groups: dict[str, list[T]] = {}
    for item in random.sample(list(items), len(items)):
        groups.setdefault(beginning(item), []).append(item)
    order = random.sample(sorted(groups), len(groups))
    taken: list[T] = []
    while len(taken) < min(count, len(items)):
        for name in order:
            if groups[name] and len(taken) < count:
                taken.append(groups[name].pop())
    return tuple(taken)
