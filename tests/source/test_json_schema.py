# ruff: noqa: E501
"""The JSON Schema of the front matter agrees with the reader: what one refuses for a field's name or shape, the other refuses, too."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
import yaml
from jsonschema import Draft202012Validator

from everyline.cli.schema import KINDS
from everyline.source.json_schema import FILES, json_schema
from everyline.source.reading import read_chapter, read_conventions, read_problem
from everyline.source.schema import Field
from everyline.techniques import catalogue

TECHNIQUES = frozenset(catalogue())
CONTENT = Path(__file__).resolve().parents[2] / "content"
#: What a schema can see of the reader's faults.
SEEN = {"field-unknown", "field-missing", "field-empty", "field-shape", "field-value", "method-unknown", "raw-html", "link-refused"}
HEAD = "question: \\int x \\, dx\nkey: x^2/2 + C\n"

CASES = {
    "problem": [
        "", "level: 2", "level: 4", "level: hard", "levl: 2", "title: Halves", "title: <b>Halves</b>", "title: x <script>", "title: 1 < 2",
        "hints: [Divide first.]", "hints: Divide first.", "hints: ['<img src=x>']", "methods: [division]", "methods: [magic]", "methods: division",
        "needs: telepathy", "release: 2027-03-01", "release: 1.3.2027", "release: soon", "video: https://example.org/f", "video: ../f.mp4",
        "video: 'javascript:x'", "vouched: {name: R. Quay, reason: by hand}", "vouched: {name: R. Quay}", "vouched: R. Quay",
        "vouched: {name: R. Quay, reason: by hand, when: now}", "vary: {a: 2..9}", "vary: a", "author:\n  name: R. Quay", "title:\n  - One\n  - Two",
        "domain: 0 < x < 1", "times: ['0:12', '1:05:00']", "times: '0:12'", "times: [soon]", "times: ['1:75']", "given: a > 0", "u: x + 3", "tags: [a]", "source: own", "license: CC BY 4.0",
    ],
    "chapter": ["title: A\norder: 1", "title: A", "order: 1", "title: A\norder: one", "title: A\norder: 1\nintroduces: [sum]", "title: A\norder: 1\nintroduces: [luck]"],
    "book": ["title: A", "log: natural", "log: 10", "log: ln", "decimal: comma", "decimal: dot", "constant: error", "logs: natural", "dated: 2027-03-01", "dated: May", "address: here"],
}  # fmt: skip


def refused(kind: str, text: str) -> bool:
    """Whether the schema refuses what an editor's YAML reader makes of the text: once as texts, once with numbers."""
    validator = Draft202012Validator(json_schema(kind, TECHNIQUES))
    texts, typed = yaml.load(text, yaml.BaseLoader), yaml.load(text, yaml.SafeLoader)
    typed = {name: str(value) if name in ("release", "dated") else value for name, value in typed.items()}
    verdicts = {validator.is_valid(texts), validator.is_valid(typed)}
    assert len(verdicts) == 1, text
    return not verdicts.pop()


def faults(kind: str, text: str) -> set[str]:
    match kind:
        case "problem":
            read = read_problem("a/b.md", f"---\n{text}\n---\n".encode(), TECHNIQUES).faults
        case "chapter":
            read = read_chapter("a/index.md", f"---\n{text}\n---\n".encode(), TECHNIQUES).faults
        case _:
            read = read_conventions("book.yml", text.encode()).faults
    return {fault.code for fault in read}


@pytest.mark.parametrize(("kind", "text"), [(kind, text) for kind, texts in CASES.items() for text in texts])
def test_schema_and_reader_agree(kind: str, text: str) -> None:
    whole = f"{HEAD}{text}" if kind == "problem" else text
    found = faults(kind, whole)
    assert found <= SEEN, "not a case for a schema"
    assert refused(kind, whole) == bool(found), found


@pytest.mark.parametrize("text", ["key: x", "question: x", "question: \nkey: x", "question: x\nkey: []", "question: x\nkey: [x, '']"])
def test_both_miss_what_must_be_there(text: str) -> None:
    assert faults("problem", text) & SEEN
    assert refused("problem", text)


@pytest.mark.parametrize("kind", KINDS)
def test_every_schema_is_one_and_describes_every_field(kind: str) -> None:
    made = json_schema(kind, TECHNIQUES)
    Draft202012Validator.check_schema(made)
    assert made["$schema"] == Draft202012Validator.META_SCHEMA["$id"]
    assert list(made["properties"]) == [field.name for field in FILES[kind]]
    assert all(about["description"].endswith(".") and about["examples"] for about in made["properties"].values())
    assert all(isinstance(field, Field) for field in FILES[kind])


def test_the_schema_takes_every_file_of_the_demo_book() -> None:
    chapters = {path.parent for path in CONTENT.glob("*/index.md")}
    looked_at = Counter[str]()
    for path in sorted(CONTENT.glob("*/*.md")):
        head = re.match(r"---\n(.*?\n)---", path.read_text("utf-8"), re.DOTALL)
        if head and path.parent in chapters and path.parent.name not in ("sets", "lessons", "contrasts"):
            kind = "chapter" if path.name == "index.md" else "problem"
            validator = Draft202012Validator(json_schema(kind, TECHNIQUES))
            assert [error.message for error in validator.iter_errors(yaml.load(head[1], yaml.BaseLoader))] == [], path.name
            looked_at[kind] += 1
    assert looked_at["problem"] > looked_at["chapter"] > 0
