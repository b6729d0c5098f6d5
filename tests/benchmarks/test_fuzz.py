"""Mutated rows of `everyline prove` in a worker that may use 1 GiB: no crash, no hang, no fault (EVERYLINE_FUZZ=1000000).

The worker (`fuzz.py`) has the memory limit in itself and says where it is; here it is killed when it says nothing for long.
"""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import threading
from pathlib import Path

import pytest

WORKER = Path(__file__).with_name("fuzz.py")
#: Fifty rows of one second each is the most that should pass between two words of the worker.
SILENCE = 90.0


def test_no_mutated_row_does_harm() -> None:
    if not sys.platform.startswith("linux"):
        pytest.skip("the worker's memory limit is Linux's")
    wanted = int(os.environ.get("EVERYLINE_FUZZ", "1500"))
    seed = os.environ.get("EVERYLINE_SEED", "1")
    worker = subprocess.Popen(
        [sys.executable, str(WORKER), seed, "0", str(wanted)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert worker.stdout is not None
    said: queue.Queue[str] = queue.Queue()
    threading.Thread(target=lambda: [said.put(line) for line in worker.stdout] + [said.put("")], daemon=True).start()  # type: ignore[union-attr]
    last, faults, done = "", [], None
    try:
        while line := said.get(timeout=SILENCE):
            word = json.loads(line)
            faults += [word] if "fault" in word else []
            done, last = word if "done" in word else done, line
    except queue.Empty:
        pytest.fail(f"it hangs after {last}")
    finally:
        worker.kill()
    assert done is not None, f"it crashed after {last}: {worker.stderr.read() if worker.stderr else ''}"
    assert faults == []
    print(f"\n{wanted} mutated rows: {done['done']}; longest {done['longest'][0]:.1f} s; peak {done['peak']} MiB")
