"""Rows of published values, and each as a question with its key."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from everyline.book.rows import claimed_question
from everyline.notation import Context, parse
from everyline.notation.question import Question
from everyline.notation.tree import Node

OWN = Path(__file__).resolve().parent / "reference"


def rows(path: Path) -> list[dict[str, Any]]:
    return [written(json.loads(line)) for line in path.read_text("utf-8").splitlines() if line.strip()]


def written(row: dict[str, Any]) -> dict[str, Any]:
    """A row with its infinities and unions as the notation writes them."""
    domain = str(row.get("domain") or "").replace(" U ", " or ").replace("oo", "infinity")
    texts = {name: row[name].replace("oo", "infinity") for name in ("lower", "upper", "answer") if isinstance(row.get(name), str)}
    return {**row, **texts, "domain": domain or None}


def published(reference: Path) -> list[dict[str, Any]]:
    """The rows of the tables and, where they are, of the textbooks."""
    return [*rows(OWN / "tables.jsonl"), *(rows(reference / "textbook.jsonl") if reference.is_dir() else [])]


def functions(reference: Path) -> list[dict[str, Any]]:
    """The indefinite and derivative rows."""
    return [row for row in published(reference) if row["kind"] in ("indefinite", "derivative")]


def asked(row: dict[str, Any]) -> tuple[Question, Node]:
    """The question of a row, on its domain, and its key."""
    return claimed_question(row, "natural"), parse(row["answer"], Context(names=frozenset({row["variable"]}), log="natural"))
