"""The reader of formulas in the page agrees with `notation` to the letter: the same table, a real browser, and values checked elsewhere."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from everyline.notation import Context, NotationError, mathml, outline, parse, plain, readings, speech
from everyline.render.scripts import script

TABLE = json.loads((Path(__file__).parents[1] / "notation" / "examples.json").read_text(encoding="utf-8"))
ROWS: list[dict[str, Any]] = TABLE["rows"]


@pytest.fixture(scope="module")
def page(browser: Any) -> Iterator[Any]:
    """A blank page that has loaded the script as it is shipped, and nothing else."""
    context = browser.new_context()
    page = context.new_page()
    page.add_script_tag(content=script("everyline-notation.js").decode())
    yield page
    context.close()


def settings(row: dict[str, Any]) -> dict[str, Any]:
    return TABLE["default"] | row.get("context", {}) | {"answer": row.get("answer", False)}


def wanted(row: dict[str, Any]) -> dict[str, Any]:
    """What Python makes of a row, as the script should say it."""
    chosen = settings(row)
    context = Context(frozenset(chosen["names"]), log=chosen["log"], decimal=chosen["decimal"])
    try:
        tree = parse(row["text"], context, answer=chosen["answer"])
    except NotationError as error:
        found = {"code": error.code, "start": error.start, "end": error.end, "readings": []}
        if error.code == "ambiguous":
            found["readings"] = [outline(way) for way in readings(row["text"], context, answer=chosen["answer"])]
        return {"error": found}
    return {"tree": outline(tree), "plain": plain(tree), "speech": speech(tree), "mathml": mathml(tree)}


READ = """rows => rows.map(([text, context]) => {
  const {parse, plain, speech, mathml} = everyline.notation, {tree, error} = parse(text, context);
  if (error) return {error: {code: error.code, start: error.start, end: error.end, readings: error.readings}};
  return {tree, plain: plain(tree), speech: speech(tree), mathml: mathml(tree)};
})"""


def test_every_row_of_the_table_is_read_printed_and_said_as_python_does(page: Any) -> None:
    found = page.evaluate(READ, [[row["text"], settings(row)] for row in ROWS])
    for row, here in zip(ROWS, found, strict=True):
        assert here == wanted(row), row["text"]
        assert row.get("tree") == here.get("tree"), row["text"]


def test_what_is_printed_is_read_back_as_the_same_tree(page: Any) -> None:
    rows = [row for row in ROWS if "tree" in row]
    for form in ("plain", "latex"):
        found = page.evaluate(READ, [[row[form], settings(row) | {"decimal": "point"}] for row in rows])
        assert [here.get("tree") for here in found] == [row["tree"] for row in rows]
