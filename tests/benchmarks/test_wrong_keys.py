"""Many thousand wrong keys, none accepted (EVERYLINE_CORRUPTIONS=100000; EVERYLINE_PART=1/2 takes every other row).

Counted are only keys that mpmath, at 50 digits and by itself, finds to be wrong.
"""

from __future__ import annotations

import os
import time
from collections import Counter
from pathlib import Path
from random import Random
from statistics import median

from published import asked, functions
from wrong_keys import surely_wrong, wrong_keys

from everyline.kernel import Checked, check, question_claim


def test_no_wrong_key_is_accepted(reference: Path) -> None:
    wanted = int(os.environ.get("EVERYLINE_CORRUPTIONS", "500"))
    part, parts = map(int, os.environ.get("EVERYLINE_PART", "0/1").split("/"))
    pool = functions(reference)[part::parts]
    draw, spent, found, unsure = Random(11), [], Counter[str](), 0
    draw.shuffle(pool)
    each = -(-wanted // len(pool))
    for row in pool:
        question, key = asked(row)
        for bad in wrong_keys(key, question.variable, draw, each):
            start = time.process_time()
            outcome = check(question_claim(question, bad))
            spent.append(time.process_time() - start)
            if surely_wrong(question, bad):
                found[getattr(outcome, "grade", type(outcome).__name__)] += 1
                assert not isinstance(outcome, Checked), (row["id"], bad)
            else:
                unsure += 1
    assert sum(found.values()) > wanted / 3
    told = f"{sum(found.values())} wrong keys: {dict(found)}; {1000 * median(spent):.2f} ms each"
    print(f"\n{told}; {unsure} more that mpmath does not call wrong")
