"""How fast keys are checked, beside SymPy on the same rows in the same run; and many corrupted keys (EVERYLINE_CORRUPTIONS=100000).

Run with `pytest -s tests/benchmarks/test_checker_speed.py`. Figures are printed, never compared with a limit: only a wrong verdict fails.
"""

from __future__ import annotations

import json
import os
import random
import signal
import time
from pathlib import Path
from statistics import median
from typing import Any

import pytest
import sympy

from everyline.kernel import Checked, Refuted, check, question_claim
from everyline.notation import Context, parse
from everyline.notation.question import Question
from everyline.notation.tree import Derivative, Integral, Node
from everyline.slips.corruptions import corruptions

OWN = Path(__file__).resolve().parents[1] / "reference" / "tables.jsonl"
SAMPLE = 40
SECONDS = 20


def functions(reference: Path) -> list[dict[str, Any]]:
    paths = [OWN, *([reference / "textbook.jsonl"] if reference.is_dir() else [])]
    found = [json.loads(line) for path in paths for line in path.read_text("utf-8").splitlines() if line.strip()]
    return [row for row in found if row["kind"] in ("indefinite", "derivative")]


def asked(row: dict[str, Any]) -> tuple[Question, Node]:
    context = Context(names=frozenset({row["variable"]}), log="natural")
    body, key = (parse(row[name].replace("E", "e"), context) for name in ("integrand", "answer"))
    node = Integral(body, row["variable"]) if row["kind"] == "indefinite" else Derivative(body, row["variable"])
    return Question(node), key


def timed(action: Any) -> tuple[float, Any]:
    start = time.process_time()
    result = action()
    return time.process_time() - start, result


def by_simplify(row: dict[str, Any]) -> bool:
    x = sympy.Symbol(row["variable"], real=True)
    f, key = (sympy.sympify(row[name], locals={row["variable"]: x}) for name in ("integrand", "answer"))
    difference = sympy.diff(key, x) - f if row["kind"] == "indefinite" else sympy.diff(f, x) - key

    def stop(*_: object) -> None:
        raise TimeoutError

    signal.signal(signal.SIGALRM, stop)
    signal.alarm(SECONDS)
    try:
        return bool(sympy.simplify(difference) == 0)
    except TimeoutError:
        return False
    finally:
        signal.alarm(0)


def test_right_keys_beside_sympy(reference: Path) -> None:
    if not hasattr(signal, "SIGALRM"):
        pytest.skip("the other side cannot be stopped here")
    chosen = random.Random(5).sample(functions(reference), SAMPLE)
    ours, theirs, wrong = [], [], []
    for row in chosen:
        question, key = asked(row)
        claim = question_claim(question, key)
        spent, outcome = timed(lambda claim=claim: check(claim))
        assert not isinstance(outcome, Refuted) or row.get("domain"), row["id"]
        ours.append(spent)
        theirs.append(timed(lambda row=row: by_simplify(row))[0])
        wrong += [
            timed(lambda bad=bad, question=question: check(question_claim(question, bad)))[0]
            for bad in corruptions(key, question.variable)[:5]
        ]
    a, b, w = median(ours), median(theirs), median(wrong)
    print(
        f"\nright keys: {1000 * a:.2f} ms, simplify {1000 * b:.0f} ms, ratio {b / a:.0f}; wrong keys: {1000 * w:.2f} ms, ratio {b / w:.0f}"
    )


def test_every_right_key(reference: Path) -> None:
    spent = sorted(timed(lambda row=row: check(question_claim(*asked(row))))[0] for row in functions(reference))
    rate, last = len(spent) / sum(spent), spent[int(len(spent) * 0.99)]
    print(f"\n{len(spent)}: {rate:.0f} a second, 99 % below {1000 * last:.1f} ms, longest {1000 * spent[-1]:.0f}")


def test_no_corrupted_key_is_accepted(reference: Path) -> None:
    wanted = int(os.environ.get("EVERYLINE_CORRUPTIONS", "1000"))
    found, draw = 0, random.Random(11)
    pool = functions(reference)
    draw.shuffle(pool)
    spent = []
    for row in pool:
        question, key = asked(row)
        for bad in corruptions(key, question.variable):
            time_taken, outcome = timed(lambda bad=bad, question=question: check(question_claim(question, bad)))
            assert not isinstance(outcome, Checked), (row["id"], bad)
            spent.append(time_taken)
            found += 1
        if found >= wanted:
            break
    print(f"\n{found} corrupted keys, none accepted; {1000 * median(spent):.2f} ms each")
