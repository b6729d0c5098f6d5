"""A thousand instances of ten families: how many are proved, what is left out, and how long an instance takes (bar: all 1,000 proved)."""

from __future__ import annotations

import time
from statistics import median

import pytest
from varied import CONVENTIONS, FAMILIES, family

from everyline.book import Job
from everyline.book.families import read_template
from everyline.book.family import Template, Wrong, instances
from everyline.book.neat import distinct, skeleton
from everyline.kernel import Checked

EACH = 100


@pytest.mark.slow
def test_a_thousand_instances_are_proved_and_none_degenerates() -> None:
    shown, total, times = [], 0, []
    for name, (question, key, vary) in FAMILIES.items():
        template = read_template(Job(family(question, key, vary), CONVENTIONS))
        assert isinstance(template, Template)
        start = time.perf_counter()
        made = instances(template, CONVENTIONS, count=EACH)
        spent = time.perf_counter() - start
        assert not isinstance(made, Wrong)
        x = template.variable
        for each in made.instances:
            assert all(isinstance(v.outcome, Checked) and v.outcome.grade == "proved" for v in each.keys)
            assert skeleton(each.question.node, x) == skeleton(template.question.node, x)
            assert distinct(each.question.node, x) == distinct(template.question.node, x)
        times.append(1000 * spent / max(len(made.instances), 1))
        total += len(made.instances)
        left_out = ", ".join(f"{s.count} {s.reason}" for s in made.skipped)
        shown.append(f"{name:15} {len(made.instances):4} proved  {times[-1]:6.0f} ms each   left out: {left_out or 'none'}")
    print("\n" + "\n".join(shown))
    print(f"{total} instances of {len(FAMILIES)} families, every key proved; median {median(times):.0f} ms an instance")
    assert total == EACH * len(FAMILIES)
