"""Cells go out so that no spreadsheet runs or changes them, and come back as they were."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from everyline.source.table import guarded, looks_like_a_day, read_table, unguarded, write_table

CELLS = st.text(st.characters(exclude_categories=("Cs",)), max_size=20)


@given(CELLS)
def test_every_cell_comes_back_as_it_was(cell: str) -> None:
    assert unguarded(guarded(cell)) == cell


@given(st.sampled_from("=+-@\t\r＝＋－＠"), CELLS)
def test_no_cell_goes_out_that_begins_like_a_formula(first: str, rest: str) -> None:
    shown = guarded(first + rest)
    assert shown[0] == "'" or float(shown.replace(",", ".")) is not None


@pytest.mark.parametrize(
    ("cell", "shown"),
    [
        ("-cos x + C", "'-cos x + C"), ("=HYPERLINK(\"x\")", "'=HYPERLINK(\"x\")"), ("@SUM(1)", "'@SUM(1)"), ("+C", "'+C"), ("1/2", "'1/2"),
        ("3-4", "'3-4"), ("-3", "-3"), ("+2.5", "+2.5"), ("-0,5", "-0,5"), ("x/2", "x/2"), ("2x - 3", "2x - 3"), ("", ""), ("'-x", "''-x"),
        ("'tis", "'tis"),
    ],
)  # fmt: skip
def test_an_answer_is_kept_from_being_computed(cell: str, shown: str) -> None:
    assert guarded(cell) == shown


@pytest.mark.parametrize("cell", ["01-Feb", "1. Feb.", "02/01/2026", "2026-02-01", "2026-02-01 00:00:00", "1-Feb-26"])
def test_what_a_spreadsheet_made_of_a_fraction_is_recognised(cell: str) -> None:
    assert looks_like_a_day(cell)


@pytest.mark.parametrize("cell", ["1/2", "x-2", "2-x", "3.5", "1/2/x"])
def test_an_answer_is_not_taken_for_a_day(cell: str) -> None:
    assert not looks_like_a_day(cell)


@given(st.lists(st.tuples(CELLS, CELLS), max_size=8), st.sampled_from(",;\t"))
def test_a_table_comes_back_row_by_row(rows: list[tuple[str, str]], delimiter: str) -> None:
    shown = [(a.strip(), b.strip()) for a, b in rows]
    kept = [row for row in shown if any(row) and not any("\r" in cell or "\n" in cell for cell in row)]
    table = read_table(write_table(("Student", "Answer"), kept, delimiter), {"student", "answer"})
    assert table is not None
    assert list(table.rows) == kept
