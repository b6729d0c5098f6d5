"""The worker of `test_fuzz.py`: rows of `everyline prove`, mutated without mercy. Prints where it is; dies if it needs too much memory.

`python fuzz.py SEED FROM TO`
"""

from __future__ import annotations

import json
import resource
import sys
import time
from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

from everyline.book.rows import prove

ROWS = Path(__file__).resolve().parents[1] / "reference"
#: What a row may take, as `prove` is told.
SECONDS = 1.0
MEMORY = 1 << 30
BITS = (
    *"()[]{}|^*/+-_=,.;:!'\\\"$&%#@~ \n\t\0", *"0123456789xtaeinpCE", "^^", "**", "9^9^9^9", "10^(10^10)", "!" * 9, "(" * 60, ")" * 60,
    "sin", "ln", "exp(", "sqrt", "abs(", "|", "arctan", "\\frac", "\\sqrt[", "\\int", "_0^1", "dx", "\\lim_{x\\to 0}", "infinity", "pi",
    "1/0", "0^0", "x^x^x^x", "9" * 300, "0.000000001", "1e999", "e^(e^(e^x))", "\u221e", "\u00b2", "\u2212", "\u202e", "\U0001f9ee",
    "tan(tan(tan(x)))", "^(1/97)", "^1000", "ln(ln(ln(x)))", "arcsin(", "sgn(", "x^99999999", "((x+1)^50+1)^50",
)  # fmt: skip
VALUES = (None, 7, -1.5, True, [], {}, "", " ", "x" * 5000, "(-infinity, infinity)", "x > 0", "a > 0", "+", "limit", "improper", 10**30)


def mutated(texts: list[dict[str, Any]], draw: Random) -> dict[str, Any]:
    row = dict(draw.choice(texts))
    for _ in range(draw.choice((1, 1, 1, 2, 2, 3, 5))):
        field = draw.choice(("integrand", "answer", "answer", "lower", "upper", "domain", "kind", "variable", "given"))
        text = row.get(field)
        if not isinstance(text, str) or draw.random() < 0.03:
            row[field] = draw.choice(VALUES) if draw.random() < 0.5 else draw.choice(texts)["integrand"]
            continue
        a, b = sorted((draw.randrange(len(text) + 1), draw.randrange(len(text) + 1)))
        b = min(b, a + draw.choice((0, 1, 1, 2, 9)))
        other = draw.choice(texts)[draw.choice(("integrand", "answer"))]
        start = draw.randrange(len(other) + 1)
        new = draw.choice((draw.choice(BITS), draw.choice(BITS), "", text[a:b] * 2, other[start : start + draw.choice((1, 5, 30))]))
        row[field] = text[:a] + new + text[b:]
    return row


def main(seed: int, start: int, stop: int) -> None:
    texts = [json.loads(line) for line in (ROWS / "tables.jsonl").read_text("utf-8").splitlines()]
    prove(texts[0], log="natural")
    used = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
    resource.setrlimit(resource.RLIMIT_AS, (used + MEMORY, used + MEMORY))
    found, longest = Counter[str](), (0.0, "")
    for number in range(start, stop):
        row = mutated(texts, Random(f"{seed} {number}"))
        print(json.dumps({"row": number}), flush=True) if number % 50 == 0 else None
        begin = time.monotonic()
        answer = prove(row, log="natural", seconds=SECONDS)
        longest = max(longest, (time.monotonic() - begin, json.dumps(row)))
        found[answer["verdict"]] += 1
        if "mistake in the checker" in answer["why"]:
            print(json.dumps({"fault": row, "why": answer["why"], "number": number}), flush=True)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(json.dumps({"done": dict(found), "longest": longest, "peak": peak}), flush=True)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
