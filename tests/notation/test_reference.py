"""Formulas as they are published and as calculators write them can be read.

Source: NIST DLMF chapter 4, Abramowitz & Stegun 3.3 and 4, OpenStax Calculus appendix A, as cited row by row in tests/reference.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from everyline.notation import Context, NotationError, latex, parse, parse_domain, parse_question, plain
from everyline.notation.question import Given, Parameter

TABLES = Path(__file__).parents[1] / "reference" / "tables.jsonl"
ROWS: list[dict[str, Any]] = [json.loads(line) for line in TABLES.read_text(encoding="utf-8").splitlines()]
#: Printed with a double sign or a function outside first courses; refusing them is right.
REFUSED = ("\\mp", "\\pm", "\\operatorname{gd}")
LETTERS = frozenset("abcmn")


def calculator(row: dict[str, Any]) -> Context:
    return Context(frozenset({row["variable"]}), log="natural", constants=False)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_a_published_row_is_read(row: dict[str, Any]) -> None:
    for field in ("integrand", "answer", "lower", "upper"):
        if field in row:
            tree = parse(str(row[field]), calculator(row))
            assert parse(latex(tree), calculator(row)) == tree
            assert parse(plain(tree), calculator(row)) == tree
    if row.get("domain"):
        assert parse_domain(row["domain"], row["variable"], calculator(row))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_a_published_question_is_read_as_printed(row: dict[str, Any]) -> None:
    given = Given(tuple(Parameter(name) for name in sorted(LETTERS | {"z"})))
    given = Given(tuple(p for p in given.parameters if f"d{p.name}" not in row["latex"] and f"{p.name}\\to" not in row["latex"]))
    question = parse_question(row["latex"], given, Context(log="natural"))
    assert question.kind == {"improper": "definite"}.get(row["kind"], row["kind"])


@pytest.mark.parametrize("row", [r for r in ROWS if "answer_latex" in r], ids=lambda row: row["id"])
def test_a_published_answer_is_read_as_printed_unless_it_has_a_double_sign(row: dict[str, Any]) -> None:
    context = Context(frozenset("abcmnuxzt"), log="natural")
    if any(sign in row["answer_latex"] for sign in REFUSED):
        with pytest.raises(NotationError):
            parse(row["answer_latex"], context)
    else:
        assert parse(row["answer_latex"], context)


@pytest.mark.parametrize("name", ["textbook", "hard"])
def test_every_integrand_and_answer_of_the_larger_sets_is_read(name: str, reference: Path) -> None:
    count = 0
    for line in (reference / f"{name}.jsonl").read_text(encoding="utf-8").splitlines():
        row = json.loads(line)
        for field in ("integrand", "answer", "lower", "upper"):
            if row.get(field):
                parse(str(row[field]), calculator(row))
                count += 1
    assert count > 250
