"""The shared table of readings: what each text means, for this parser and for the one in the browser.

`tree` is written as `notation.outline` does; `error` is the code of a refusal; an ambiguous row lists every reading in plain text.
"""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from everyline.notation import Context, NotationError, latex, outline, parse, plain, readings

TABLE = json.loads((Path(__file__).parent / "examples.json").read_text(encoding="utf-8"))
ROWS: list[dict[str, Any]] = TABLE["rows"]


def context(row: dict[str, Any]) -> Context:
    chosen = TABLE["default"] | row.get("context", {})
    return Context(frozenset(chosen["names"]), log=chosen["log"], decimal=chosen["decimal"])


def printed(row: dict[str, Any]) -> Context:
    """Printers write a decimal point, also for a book with decimal commas."""
    return replace(context(row), decimal="point")


def label(row: dict[str, Any]) -> str:
    return row["text"] + "".join(f" {k}={v}" for k, v in row.get("context", {}).items())


def rows(kind: str) -> Any:
    found = [r for r in ROWS if (kind == "read" and "tree" in r) or r.get("error") == kind or (kind == "refused" and "error" in r)]
    if kind == "refused":
        found = [r for r in found if r["error"] != "ambiguous"]
    return pytest.mark.parametrize("row", found, ids=label)


def test_the_table_is_large_and_names_no_text_twice() -> None:
    assert len(ROWS) >= 450
    assert len({label(row) + str(row.get("answer")) for row in ROWS}) >= len(ROWS) - 3


@rows("read")
def test_a_text_is_read_as_the_table_says(row: dict[str, Any]) -> None:
    tree = parse(row["text"], context(row), answer=row.get("answer", False))
    assert outline(tree) == row["tree"]
    assert latex(tree) == row["latex"]
    assert plain(tree) == row["plain"]


@rows("read")
def test_what_is_printed_means_the_same(row: dict[str, Any]) -> None:
    for written in (row["latex"], row["plain"]):
        assert outline(parse(written, printed(row))) == row["tree"]


@rows("refused")
def test_what_cannot_be_read_is_refused_with_its_place_and_a_mend(row: dict[str, Any]) -> None:
    with pytest.raises(NotationError) as caught:
        parse(row["text"], context(row), answer=row.get("answer", False))
    error = caught.value
    assert error.code == row["error"]
    assert 0 <= error.start <= error.end <= len(row["text"])
    assert str(error).endswith(".")
    assert not error.readings


@rows("ambiguous")
def test_what_can_mean_two_things_is_asked_about(row: dict[str, Any]) -> None:
    with pytest.raises(NotationError) as caught:
        parse(row["text"], context(row), answer=row.get("answer", False))
    error = caught.value
    assert error.code == "ambiguous"
    assert [way.plain for way in error.readings] == row["readings"]
    assert row["text"][error.start : error.end].strip()
    assert tuple(way.tree for way in error.readings) == readings(row["text"], context(row), answer=row.get("answer", False))


@rows("ambiguous")
def test_each_reading_is_shown_in_a_way_that_can_be_read_only_so(row: dict[str, Any]) -> None:
    for tree, written in zip(readings(row["text"], context(row), answer=row.get("answer", False)), row["readings"], strict=True):
        assert parse(written, printed(row)) == tree
        assert parse(latex(tree), printed(row)) == tree
