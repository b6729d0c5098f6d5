"""Rows of JSON in, rows of JSON out, in order, each as soon as it is ready."""

from __future__ import annotations

import argparse
import functools
import json
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .shared import RIGHT, misused

if TYPE_CHECKING:
    from ..book.workers import Overrun


def answer_rows(options: argparse.Namespace, answer: Callable[..., dict[str, Any]], failed: dict[str, Any]) -> int:
    """Answer every row with a row, in order, as soon as it is ready; a bad row never stops the others."""
    from ..book.workers import Limits, Overrun, run

    try:
        lines = _lines(options.jsonl)
    except OSError as error:
        return misused(f"{options.jsonl} could not be read: {error.strerror}")
    work = functools.partial(answer, log=options.log, seconds=options.seconds)
    seen: list[str] = []  # only the rows that are still being worked on: each is dropped as it is answered

    def noted() -> Iterator[str]:
        for line in lines:
            seen.append(line)
            yield line

    for count, result in enumerate(run(work, noted(), workers=options.workers, limits=Limits(options.seconds * 1.5 + 1, 2**30 * 3)), 1):
        line = seen.pop(0)
        print(json.dumps(_overrun(line, result, failed) if isinstance(result, Overrun) else result, ensure_ascii=False), flush=True)
        _progress(count)
    return RIGHT


def _overrun(line: str, overrun: Overrun, failed: dict[str, Any]) -> dict[str, Any]:
    why = {"time": "ran out of time", "memory": "ran out of memory"}.get(overrun.what, "the checker stopped")
    row = json.loads(line)
    return {"id": row.get("id") if isinstance(row, dict) else None, **failed, "why": f"could not be decided: {why}", "ms": None}


def _lines(file: str | None) -> Iterable[str]:
    stream = sys.stdin.buffer if file in (None, "-") else Path(file).open("rb")  # noqa: SIM115 - read to its end below
    return (text for line in stream if (text := line.decode("utf-8", "replace").strip()))


def _progress(count: int) -> None:
    if sys.stderr.isatty() and count % 20 == 0:
        print(f"\r{count} rows", end="", file=sys.stderr, flush=True)
