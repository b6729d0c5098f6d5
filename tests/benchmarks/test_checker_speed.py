"""How fast keys are checked, beside `simplify(diff(F) - f) == 0` in SymPy on the same rows in the same run.

Run with `pytest -s tests/benchmarks/test_checker_speed.py` (EVERYLINE_SAMPLE=400 for all rows). Figures are printed, never compared with a
limit: only a wrong verdict fails. A simplification that has not ended after its limit counts as that long.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path
from statistics import median
from typing import Any

import pytest
import sympy
from published import asked, functions
from wrong_keys import surely_wrong, wrong_keys

from everyline.kernel import Checked, Refuted, check, question_claim
from everyline.notation import plain

SECONDS = 20


def timed(action: Any) -> tuple[float, Any]:
    start = time.process_time()
    result = action()
    return time.process_time() - start, result


def by_simplify(row: dict[str, Any], answer: str) -> float:
    """Seconds that SymPy takes, with real symbols."""
    x = sympy.Symbol(row["variable"], real=True)
    names = {row["variable"]: x, "ln": sympy.log, "abs": sympy.Abs}
    names |= {f"arc{name}": getattr(sympy, f"a{name}") for name in ("sin", "cos", "tan", "sec")}
    f, key = (sympy.sympify(text.replace("^", "**"), locals=names) for text in (row["integrand"], answer))

    def stop(*_: object) -> None:
        raise TimeoutError

    signal.signal(signal.SIGALRM, stop)
    signal.alarm(SECONDS)
    start = time.process_time()
    try:
        difference = sympy.diff(key, x) - f if row["kind"] == "indefinite" else sympy.diff(f, x) - key
        sympy.simplify(difference)
        return time.process_time() - start
    except TimeoutError:
        return float(SECONDS)
    finally:
        signal.alarm(0)


def test_beside_sympy(reference: Path) -> None:
    if not hasattr(signal, "SIGALRM"):
        pytest.skip("the other side cannot be stopped here")
    pool, draw = functions(reference), random.Random(5)
    chosen = draw.sample(pool, min(len(pool), int(os.environ.get("EVERYLINE_SAMPLE", "12"))))
    ours: dict[str, list[float]] = {"right": [], "wrong": []}
    theirs: dict[str, list[float]] = {"right": [], "wrong": []}
    for row in chosen:
        question, key = asked(row)
        bad = next(bad for bad in wrong_keys(key, question.variable, draw, 9) if surely_wrong(question, bad))
        for kind, answer, text in (("right", key, row["answer"]), ("wrong", bad, plain(bad, every_operator=True))):
            claim = question_claim(question, answer)
            spent, outcome = min((timed(lambda claim=claim: check(claim)) for _ in range(3)), key=lambda found: found[0])
            assert isinstance(outcome, Refuted if kind == "wrong" else Checked), (row["id"], answer)
            ours[kind].append(spent)
            theirs[kind].append(by_simplify(row, text))
    for kind, spent_here in ours.items():
        a, b, late = median(spent_here), median(theirs[kind]), sum(t >= SECONDS for t in theirs[kind])
        print(f"\n{len(chosen)} {kind} keys: {1000 * a:.2f} ms, simplify {1000 * b:.0f} ms ({late} stopped at {SECONDS} s):", end="")
        print(f" {b / a:.0f} times in the median, {sum(theirs[kind]) / sum(spent_here):.0f} in sum")


def test_every_right_key(reference: Path) -> None:
    claims = [question_claim(*asked(row)) for row in functions(reference)]
    spent = sorted(min(timed(lambda claim=claim: check(claim))[0] for _ in range(3)) for claim in claims)
    rate, last = len(spent) / sum(spent), spent[int(len(spent) * 0.99)]
    print(f"\n{len(spent)}: {rate:.0f} a second, median {1000 * median(spent):.2f} ms, 99 % below {1000 * last:.1f}", end="")
    print(f", longest {1000 * spent[-1]:.0f}")


def test_cold_start() -> None:
    """Seconds on the clock, and seconds of the processor, which do not depend on who else is at work."""
    resource = pytest.importorskip("resource")
    command = [sys.executable, "-m", "everyline.cli", "prove", r"\int 14x^6 \, dx", "2x^7 + C"]
    clock, used = [], []
    for _ in range(5):
        start, before = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(command, check=True, capture_output=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        clock.append(time.perf_counter() - start)
        used.append(after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime)
    print(f"\neveryline prove, cold: {1000 * min(clock):.0f} ms at best, {1000 * min(used):.0f} ms of the processor")
