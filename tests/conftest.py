"""What every test may use: books drawn as text, and where the reference rows are."""

from __future__ import annotations

import textwrap
from pathlib import Path

import pytest


def drawn(picture: str) -> dict[str, str]:
    """Files drawn in text: a path at the margin, its content indented below it."""
    files: dict[str, list[str]] = {}
    current: list[str] = []
    for line in textwrap.dedent(picture).strip("\n").splitlines():
        if line and not line.startswith(" "):
            current = files.setdefault(line.strip(), [])
        else:
            current.append(line)
    return {path: textwrap.dedent("\n".join(lines)).strip("\n") + "\n" for path, lines in files.items()}


@pytest.fixture
def plant(tmp_path: Path):  # type: ignore[no-untyped-def]
    """Write the drawn files below a fresh folder and return it."""

    def write(picture: str) -> Path:
        for path, content in drawn(picture).items():
            target = tmp_path / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(content, encoding="utf-8")
        return tmp_path

    return write


@pytest.fixture(scope="session")
def reference() -> Path:
    """The folder of published values beside the checkout; a test that needs it is skipped, and says so, where it is absent."""
    folder = Path(__file__).resolve().parents[2] / "shared" / "reference"
    if not folder.is_dir():
        pytest.skip("the published values (../shared/reference) are not here")
    return folder
