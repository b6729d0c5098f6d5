"""Published values against the checker: rows of `tests/reference`, each naming its source, and the larger set beside the checkout."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import mpmath
import pytest
import sympy

from everyline.book.rows import prove

ROWS = Path(__file__).resolve().parents[1] / "reference"
#: Rows whose only fault is a missing constant: the checker does not see an initial condition.
ONLY_A_CONSTANT = ("dropped the constant",)


def rows(path: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip()]


def asked(row: dict[str, Any], answer: str) -> dict[str, Any]:
    return {**row, "answer": answer, "domain": str(row.get("domain") or "").replace(" U ", " or ").replace("oo", "infinity") or None}


def told(row: dict[str, Any], answer: str) -> str:
    return str(prove(asked(row, answer), log="natural")["verdict"])


FUNCTIONS = ("indefinite", "derivative")


def test_every_published_antiderivative_and_derivative_is_proved() -> None:
    found = {row["id"]: told(row, row["answer"]) for row in rows(ROWS / "tables.jsonl") if row["kind"] in FUNCTIONS}
    assert {name: verdict for name, verdict in found.items() if verdict != "proved"} == {}


def test_every_published_limit_is_proved() -> None:
    found = {row["id"]: told(row, row["answer"]) for row in rows(ROWS / "tables.jsonl") if row["kind"] == "limit"}
    assert set(found.values()) == {"proved"}


def test_every_row_with_a_mistake_in_it_is_refuted() -> None:
    wrong = [
        row
        for row in rows(ROWS / "wrong_tables.jsonl")
        if not row["mistake"].startswith(ONLY_A_CONSTANT) and row["kind"] in (*FUNCTIONS, "limit")
    ]
    found = {row["id"]: told(row, row["wrong_answer"]) for row in wrong}
    assert {name: verdict for name, verdict in found.items() if verdict != "refuted"} == {}


def test_what_textbooks_misprint_is_refuted() -> None:
    printed = [row for row in rows(ROWS / "misprints.jsonl") if row.get("published_fails") and row["kind"] in FUNCTIONS]
    found = {row["id"]: told(row, row["published_answer"]) for row in printed if "uses x" not in row["published_answer"]}
    assert {name: verdict for name, verdict in found.items() if verdict != "refuted"} == {}


@pytest.mark.parametrize("kind", [*FUNCTIONS, "limit"])
def test_the_larger_set(reference: Path, kind: str) -> None:
    """OpenStax Calculus, APEX Calculus and CLP-2: none refuted, under 2 % not proved."""
    if not reference.is_dir():
        pytest.skip("no reference rows beside the checkout")
    found = [told(row, row["answer"]) for row in rows(reference / "textbook.jsonl") if row["kind"] == kind]
    assert "refuted" not in found
    assert sum(verdict != "proved" for verdict in found) <= 0.02 * len(found)


def test_two_independent_opinions_agree() -> None:
    """SymPy differentiates, mpmath evaluates at 50 digits: the difference to the integrand is nothing for right rows only."""
    right = [row for row in rows(ROWS / "tables.jsonl") if row["kind"] == "indefinite" and row.get("domain") == "(-oo, oo)"]
    wrong = [row for row in rows(ROWS / "wrong_tables.jsonl") if row["kind"] == "indefinite" and row.get("domain") == "(-oo, oo)"]
    pairs = [(row, row["answer"]) for row in right] + [(row, row["wrong_answer"]) for row in wrong]
    assert len(pairs) > 20
    for row, answer in pairs:
        assert (told(row, answer) == "proved") == _agrees(row["integrand"], answer, row["variable"]), (row["id"], answer)


def _agrees(integrand: str, answer: str, variable: str) -> bool:
    x = sympy.Symbol(variable, real=True)
    names = {variable: x}
    difference = sympy.diff(sympy.sympify(answer, locals=names), x) - sympy.sympify(integrand, locals=names)
    with mpmath.workdps(50):
        value = sympy.lambdify(x, difference, "mpmath")
        draw = random.Random(7)
        return all(abs(value(mpmath.mpf(draw.randint(-300, 300)) / 101 + mpmath.mpf(1) / 997)) < mpmath.mpf(10) ** -35 for _ in range(8))
