"""Published values against the checker: rows of `tests/reference`, each naming its source, and the larger set beside the checkout."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from published import OWN, rows

from everyline.book.rows import prove

#: Rows whose only fault is a missing constant: the checker does not see an initial condition.
ONLY_A_CONSTANT = ("dropped the constant",)
FUNCTIONS = ("indefinite", "derivative")
VALUES = ("definite", "improper", "limit")
#: Rows that stay open, with the reason: their value is found with series, contours or comparisons, and no antiderivative is elementary,
#: so there is no certificate.
OPEN = {
    "dlmf-4.10.6": "a dilogarithm", "dlmf-4.10.11": "the error function", "dlmf-4.10.12": "a dilogarithm",
    "dlmf-4.26.12": "the sine integral",
    "dlmf-4.26.13": "a Fresnel integral", "dlmf-4.26.13b": "a Fresnel integral", "dlmf-4.40.8": "a contour integral",
}  # fmt: skip


def told(row: dict[str, Any], answer: str, **changed: str) -> str:
    said = prove({**row, "answer": answer, **changed}, log="natural")
    assert "mistake in the checker" not in said["why"], said
    return str(said["verdict"])


def test_every_published_antiderivative_and_derivative_is_proved() -> None:
    found = {row["id"]: told(row, row["answer"]) for row in rows(OWN / "tables.jsonl") if row["kind"] in FUNCTIONS}
    assert {name: verdict for name, verdict in found.items() if verdict != "proved"} == {}


def test_every_published_value_is_proved_or_open_for_a_reason_that_is_known() -> None:
    found = {row["id"]: told(row, row["answer"]) for row in rows(OWN / "tables.jsonl") if row["kind"] in VALUES}
    assert {name: verdict for name, verdict in found.items() if verdict != "proved" and name not in OPEN} == {}


def test_every_row_with_a_mistake_in_it_is_refuted() -> None:
    found = _wrong(OWN / "wrong_tables.jsonl")
    assert len(found) > 20
    assert {name: verdict for name, verdict in found.items() if verdict != "refuted"} == {}


def _wrong(path: Path) -> dict[str, str]:
    wrong = [row for row in rows(path) if not row["mistake"].startswith(ONLY_A_CONSTANT)]
    return {row["id"]: told(row, row["wrong_answer"]) for row in wrong}


def test_what_textbooks_misprint_is_refuted() -> None:
    """Every key that really fails, with the place of the limit that its row says in words; where the book prints a formula at all."""
    printed = [row for row in rows(OWN / "misprints.jsonl") if row.get("published_fails") and row.get("integrand")]
    found = {row["id"]: told(row, row["published_answer"], **PLACES.get(row["id"], {})) for row in printed}
    assert {name: verdict for name, verdict in found.items() if verdict != "refuted"} == {"mis-13": "unreadable"}


#: Corrected answers that are given in words.
IN_WORDS = ("mis-08", "mis-16")
#: What a row says in words: the limit is taken at 1, from both sides; on mis-13 the book names a variable that is not the question's.
PLACES = {"mis-08": {"lower": "1"}}


def test_a_key_in_another_variable_gets_a_message_of_its_own() -> None:
    row = next(row for row in rows(OWN / "misprints.jsonl") if row["id"] == "mis-13")
    answer = row["corrected_answer"].replace("t**(-4/5)", "x**(-4/5)")
    said = prove({**row, "answer": answer}, log="natural")
    assert said["verdict"] == "unreadable"
    assert "x" in said["why"]


def test_what_textbooks_should_have_printed_is_proved() -> None:
    mended = [row for row in rows(OWN / "misprints.jsonl") if row.get("corrected_verified") and row.get("integrand")]
    found = {row["id"]: told(row, row["corrected_answer"]) for row in mended if row["id"] not in IN_WORDS}
    assert len(found) > 6
    assert {name: verdict for name, verdict in found.items() if verdict != "proved"} == {}


@pytest.mark.parametrize("kind", [*FUNCTIONS, *VALUES])
def test_the_larger_set(reference: Path, kind: str) -> None:
    """OpenStax Calculus, APEX Calculus and CLP-2: none refuted; under 2 % of functions and 10 % of values enclosed, the rest proved."""
    found = {row["id"]: told(row, row["answer"]) for row in rows(reference / "textbook.jsonl") if row["kind"] == kind}
    count = Counter(found.values())
    assert count["refuted"] == count["unreadable"] == 0
    assert count["enclosed"] <= (0.02 if kind in FUNCTIONS else 0.10) * len(found)
    assert {name for name, verdict in found.items() if verdict == "undecided"} <= set(OPEN)


def test_every_wrong_row_of_the_larger_set_is_refuted(reference: Path) -> None:
    found = _wrong(reference / "wrong.jsonl")
    assert len(found) > 100
    assert {name: verdict for name, verdict in found.items() if verdict != "refuted"} == {}
