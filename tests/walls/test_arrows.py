"""The rooms stand on floors and every import points down (common practice, no source: the house's own rule)."""

from __future__ import annotations

import ast
import sys

import pytest

from .house import MODULES, Module

#: For each room what it may import of ours. `cli` may import everything; `resources` and `language` are leaves that import nothing of ours.
MAY_IMPORT: dict[str, set[str]] = {
    "notation": set(),
    "arithmetic": {"notation"},
    "kernel": {"arithmetic", "notation"},
    "source": {"notation"},
    "algebra": {"notation"},
    "techniques": {"notation", "algebra", "kernel"},
    "slips": {"notation", "algebra", "arithmetic", "kernel"},
    "derive": {"techniques", "algebra", "kernel", "notation"},
    "diagnostics": {"source", "notation"},
    "receipts": {"kernel"},
    "book": {"receipts", "arithmetic", "diagnostics", "slips", "derive", "techniques", "source", "algebra", "kernel", "notation"},
    "render": {"language", "book", "diagnostics", "derive", "techniques", "source", "kernel", "notation", "resources"},
    "adapters": {"language", "render", "book", "diagnostics", "source", "resources"},
    "resources": set(),
    "language": set(),
}
#: What each room may not import although others may: who may use a library at all.
ONLY_IN = {"sympy": ("algebra/",), "mkdocs": ("adapters/mkdocs.py",), "yaml": ("source/",), "pebble": ("book/workers.py",)}
#: The two trusted rooms, and all that they may import besides the standard library, module by module.
TREE = {"everyline.notation.tree", "everyline.notation.build", "flint"}
TRUSTED_MAY_IMPORT = {"arithmetic": TREE, "kernel": TREE | {"everyline.notation.question", "everyline.arithmetic"}}


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.label)
def test_every_import_points_down(module: Module) -> None:
    if module.room in ("", "cli", "__main__"):
        return
    ours = {name.split(".")[1] for name in module.imports if name.startswith("everyline.")}
    assert ours - {module.room} <= MAY_IMPORT[module.room]


@pytest.mark.parametrize("library", ONLY_IN)
def test_a_library_stays_in_its_room(library: str) -> None:
    users = [m.label for m in MODULES if any(name.split(".")[0] == library for name in m.imports)]
    inside = tuple(f"build_tools/everyline/{place}" for place in ONLY_IN[library])
    assert [label for label in users if not label.startswith(inside)] == []


@pytest.mark.parametrize("module", [m for m in MODULES if m.room in TRUSTED_MAY_IMPORT], ids=lambda m: m.label)
def test_what_is_trusted_imports_the_tree_the_standard_library_and_flint(module: Module) -> None:
    foreign = {name for name in module.imports if name.split(".")[0] not in sys.stdlib_module_names}
    allowed = (*TRUSTED_MAY_IMPORT[module.room], f"everyline.{module.room}")
    assert [name for name in foreign if not any(name == a or name.startswith(f"{a}.") for a in allowed)] == []


def test_only_the_kernel_makes_a_checked_line() -> None:
    """`Checked` may be named anywhere; it is called, that is made, only in the kernel (as in HOL Light's `fusion.ml`).

    `receipts.py` takes back what the kernel said, and no more: it is told by a keyed digest of claim and verdict.
    """
    others = (m for m in MODULES if m.room not in ("kernel", "receipts"))
    calls = ((m.label, node.func) for m in others for node in ast.walk(m.tree) if isinstance(node, ast.Call))
    assert [label for label, function in calls if ast.unparse(function).split(".")[-1] in ("Checked", "stands")] == []


def test_the_rooms_that_the_rules_name_are_the_rooms_that_exist() -> None:
    assert {m.room for m in MODULES} - {"", "cli", "__main__"} == set(MAY_IMPORT)
