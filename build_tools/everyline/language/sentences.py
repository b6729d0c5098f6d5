"""The sentences that a catalogue has to translate, found in the code: what a translator starts from."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

#: Functions and shapes of which one argument is a sentence, and which one it is.
SAYING = {"say": 0, "Message": 0, "sentence": 0, "tell": 0, "Field": 2}
#: Shapes whose fields of these names are sentences, and the places of those fields.
SHAPES = {"Technique": ("title", "explains"), "Slip": ("title", "explains", "hint"), "Kind": ("title", "meaning", "mend")}


def sentences(package: Path) -> dict[str, str]:
    """Every sentence in the package's modules and the first module that has it (its path relative to the package)."""
    found: dict[str, str] = {}
    for file in sorted(package.rglob("*.py")):
        for text in _of_module(ast.parse(file.read_text("utf-8"))):
            found.setdefault(text, file.relative_to(package).as_posix())
    return found


def _of_module(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        name = ast.unparse(node.func).split(".")[-1]
        if len(node.args) > SAYING.get(name, len(node.args)):
            yield from _literals(node.args[SAYING[name]])
        for keyword in node.keywords:
            if keyword.arg in SHAPES.get(name, ()):
                yield from _literals(keyword.value)


def _literals(node: ast.expr) -> Iterator[str]:
    """The text of a literal, or of both sides of a choice between two."""
    if isinstance(node, ast.IfExp):
        yield from _literals(node.body)
        yield from _literals(node.orelse)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str) and any(letter.isalpha() for letter in node.value):
        yield node.value
