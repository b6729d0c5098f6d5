"""`everyline suggest`: what it prints, as text and as data, and what it says of a folder that is no book."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

from commands import everyline

BOOK = """
content/book.yml
    title: A small book
    log: natural
content/tides/index.md
    ---
    title: Tides
    order: 1
    ---
content/tides/above.md
    ---
    question: \\int \\frac{x}{x^2 + 81} \\, dx
    key: \\frac12\\ln(x^2 + 81) + C
    ---
content/tides/below.md
    ---
    question: \\int \\frac{1}{x^2 + 81} \\, dx
    key: \\frac19\\arctan\\frac{x}{9} + C
    ---
"""
CONTRAST = """
content/contrasts/known.md
    ---
    title: Above
    point: Look above.
    problems: [tides/above, tides/below]
    ---
"""


def suggest(root: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return everyline(root, "suggest", *arguments)


def test_text_names_the_problems_their_methods_and_what_they_share(plant) -> None:  # type: ignore[no-untyped-def]
    ran = suggest(plant(BOOK))
    assert (ran.returncode, ran.stderr) == (0, "")
    first = ran.stdout.split("\n\n")[0]
    assert first.splitlines() == [
        "1. Look-alikes",
        "   tides/above: int x/(x^2 + 81) dx   (Substitution)",
        "   tides/below: int 1/(x^2 + 81) dx   (Arctangent form)",
        "   Both hold x^2 + 81. Both have a fraction and a quadratic below the line.",
    ]


def test_data_is_what_a_contrast_file_needs(plant) -> None:  # type: ignore[no-untyped-def]
    ran = suggest(plant(BOOK), "--format", "json", "--count", "1")
    found = json.loads(ran.stdout)
    assert len(found) == 1
    assert found[0]["kind"] == "look-alikes"
    assert found[0]["problems"] == ["tides/above", "tides/below"]
    assert found[0]["methods"] == ["substitution", "arctangent-form"]
    assert 0 < found[0]["closeness"] <= 1


def test_what_the_book_has_is_not_suggested(plant) -> None:  # type: ignore[no-untyped-def]
    found = json.loads(suggest(plant(BOOK + CONTRAST), "--format", "json").stdout)
    assert not any(each["problems"] == ["tides/above", "tides/below"] for each in found)


def test_no_book(tmp_path: Path) -> None:
    ran = suggest(tmp_path, "nowhere")
    assert ran.returncode == 2
    assert "nowhere is not the folder of a book" in ran.stderr
