"""How many published questions get a worked solution, how long it takes, and the ratio to SymPy's `manualintegrate`.

Reports, never fails on a figure. Rows are read from the reference folder beside the checkout; absent, it is skipped.
"""

from __future__ import annotations

import json
import random
import statistics
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from everyline.algebra.sympy_bridge import to_sympy
from everyline.derive import Budget, Derivation, derive
from everyline.notation import Context, parse
from everyline.notation.question import Question
from everyline.notation.tree import Derivative, Integral, Limit, Node
from everyline.techniques import catalogue

FILES = ("textbook", "tables", "hard")
SECONDS = 4.0
COMPARED = 40


def tree(text: str, variable: str) -> Node:
    return parse(text.replace("oo", "infinity").replace("E", "e"), Context(names=frozenset({variable}), log="natural", constants=False))


def question(row: dict[str, Any]) -> Question:
    x = row["variable"]
    body = tree(row["integrand"], x)
    if row["kind"] == "indefinite":
        return Question(Integral(body, x))
    if row["kind"] == "derivative":
        return Question(Derivative(body, x))
    if row["kind"] == "limit":
        return Question(Limit(body, x, tree(row["lower"], x), row.get("side", "")))
    return Question(Integral(body, x, tree(row["lower"], x), tree(row["upper"], x)))


@pytest.mark.parametrize("file", FILES)
def test_worked_solutions_of_published_questions(file: str, reference: Path) -> None:
    catalogue()
    rows = [json.loads(line) for line in (reference / f"{file}.jsonl").read_text(encoding="utf-8").splitlines()]
    for kind in ("indefinite", "definite", "improper", "derivative", "limit"):
        times, solved, several, missing = [], 0, 0, []
        for row in (r for r in rows if r["kind"] == kind):
            try:
                asked = question(row)
            except Exception as error:  # a row in a notation that is refused on purpose: counted as not solved
                missing.append(f"{row['integrand']} (unread: {error})")
                continue
            start = time.perf_counter()
            found: Derivation = derive(asked, budget=Budget(seconds=SECONDS))
            times.append(1000 * (time.perf_counter() - start))
            solved += bool(found.routes)
            several += len(found.routes) > 1 or any(not a.works for a in found.attempts)
            if not found.routes:
                missing.append(row["integrand"])
        total = solved + len(missing)
        if times:
            late = sorted(times)[int(0.95 * (len(times) - 1))]
            print(f"\n{file} {kind}: {solved} of {total} solved, {several} with two methods or an instructive attempt; "
                  f"median {statistics.median(times):.0f} ms, 95th percentile {late:.0f} ms, longest {max(times):.0f} ms")  # fmt: skip
            for text in missing if len(missing) <= 10 else ():
                print("   not solved:", text)


def _manual(text: str, variable: str) -> bool:
    import sympy
    from sympy.integrals.manualintegrate import manualintegrate

    found = manualintegrate(to_sympy(tree(text, variable)), sympy.Symbol(variable, real=True))
    return not found.has(sympy.Integral)


def test_ratio_to_manualintegrate(reference: Path) -> None:
    pebble = pytest.importorskip("pebble")
    rows = [json.loads(line) for line in (reference / "textbook.jsonl").read_text(encoding="utf-8").splitlines()]
    rows = random.Random(7).sample([r for r in rows if r["kind"] == "indefinite"], COMPARED)
    ours, theirs, we, they = [], [], 0, 0
    with pebble.ProcessPool(max_workers=1) as pool:
        pool.schedule(_manual, args=("x", "x")).result()
        for row in rows:
            start = time.perf_counter()
            we += bool(derive(question(row), budget=Budget(seconds=SECONDS)).routes)
            ours.append(time.perf_counter() - start)
            start = time.perf_counter()
            with suppress(Exception):  # late, or a fault of its own: not solved
                they += pool.schedule(_manual, args=(row["integrand"], row["variable"]), timeout=10).result()
            theirs.append(time.perf_counter() - start)
    ratio = statistics.median(theirs) / statistics.median(ours)
    print(f"\nof {COMPARED} textbook integrals: solved {we} against {they}; manualintegrate's median time is {ratio:.2f} times ours "
          f"(ours finds every method and checks every line)")  # fmt: skip
