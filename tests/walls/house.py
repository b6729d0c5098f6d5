"""What the tests of the walls look at: the modules of the package and what each imports."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "build_tools" / "everyline"


@dataclass(frozen=True)
class Module:
    """One module: its name below `everyline` in parts, its text, and everything it imports anywhere in it."""

    path: Path

    @property
    def name(self) -> tuple[str, ...]:
        parts = self.path.relative_to(PACKAGE).with_suffix("").parts
        return parts[:-1] if parts[-1] == "__init__" else parts

    @property
    def room(self) -> str:
        return self.name[0] if self.name else ""

    @cached_property
    def text(self) -> str:
        return self.path.read_text("utf-8")

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text)

    @cached_property
    def imports(self) -> frozenset[str]:
        """Dotted names of what is imported: `everyline.notation.tree` for our own, `flint` for others."""
        return frozenset(self._imports())

    def _imports(self) -> Iterator[str]:
        package = ("everyline", *self.path.relative_to(PACKAGE).parts[:-1])
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import):
                yield from (alias.name for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                base = ".".join(package[: len(package) + 1 - node.level]) if node.level else ""
                whole = ".".join(part for part in (base, node.module) if part)
                # `from . import a` names modules, as does `from .a import b` where b is one; else it names what is in a module
                home = PACKAGE.parent.joinpath(*whole.split("."))
                inside = [alias.name for alias in node.names if node.module is None or (home / f"{alias.name}.py").exists()]
                yield from (f"{whole}.{name}" for name in inside)
                yield from [whole] * (len(inside) < len(node.names))

    @property
    def label(self) -> str:
        return self.path.relative_to(ROOT).as_posix()


MODULES = tuple(Module(path) for path in sorted(PACKAGE.rglob("*.py")))


def tracked() -> list[Path]:
    """The files that a commit of this tree holds or would hold."""
    said = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return [ROOT / name for name in said.stdout.split("\0") if name and (ROOT / name).is_file()]
