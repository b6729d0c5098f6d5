"""The same work on an executor of another's: the same results, byte for byte, and the same hard limits."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from pathlib import Path

import pytest
from commands import everyline

from everyline.book.elsewhere import BATCH, run_on
from everyline.book.workers import Limits, Overrun

BOOK = {
    "book.yml": "log: natural\n",
    "powers/index.md": "---\ntitle: Powers\norder: 1\n---\n",
    "powers/a.md": "---\nquestion: \\int 12x^3 \\, dx\nkey: 3x^4 + C\n---\n",
    "powers/b.md": "---\nquestion: \\int x e^{5x} \\, dx\nkey: x e^{5x}/5 + C\n---\n",
    "powers/c.md": "---\nquestion: \\int_0^2 (3x^2 + 1) \\, dx\nkey: '10'\n---\n",
}


def _work(item: int) -> int:
    if item == 3:
        time.sleep(30)
    if item == 4:
        os._exit(3)
    return item * item


@pytest.mark.parametrize("kind", [ThreadPoolExecutor, ProcessPoolExecutor], ids=["threads", "processes"])
def test_any_executor_takes_the_work_and_an_overrun_harms_only_itself(kind: type) -> None:
    numbers = range(BATCH + 5)
    with kind(max_workers=2) as executor:
        found = list(run_on(executor, _work, numbers, limits=Limits(seconds=1.5)))
    assert found == [{3: Overrun("time"), 4: Overrun("crash")}.get(n, n * n) for n in numbers]


@pytest.fixture
def cluster() -> Iterator[str]:
    distributed = pytest.importorskip("distributed", reason="Dask is not installed")
    with distributed.LocalCluster(n_workers=1, threads_per_worker=1, dashboard_address=None, processes=True) as local:
        yield local.scheduler_address


def check(root: Path, *more: str) -> tuple[int, str, str]:
    ran = everyline(root, "check", "content", "--no-cache", "--format", "json", *more, seconds=200)
    return ran.returncode, ran.stdout, ran.stderr


@pytest.mark.slow
def test_a_dask_cluster_finds_the_same_byte_for_byte(cluster: str, tmp_path: Path) -> None:
    for name, text in BOOK.items():
        (tmp_path / "content" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "content" / name).write_text(text)
    here, there = check(tmp_path), check(tmp_path, "--dask", cluster)
    assert there[:2] == here[:2]
    assert json.loads(there[1])["summary"]["keys"] == 3
    assert there[0] == 1


def test_an_address_where_nothing_answers_is_said_to_be_so(tmp_path: Path) -> None:
    pytest.importorskip("distributed", reason="Dask is not installed")
    (tmp_path / "content").mkdir()
    code, _, said = check(tmp_path, "--dask", "tcp://127.0.0.1:1")
    assert code == 2
    assert said.startswith("everyline: no Dask cluster answers at tcp://127.0.0.1:1")
    assert "Traceback" not in said
