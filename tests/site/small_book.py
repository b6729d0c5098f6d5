"""The small book that the tests of the site build, and how they build it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from textwrap import dedent

SETTINGS = """\
site_name: Tides and timetables
repo_url: https://github.com/harbour-lane/tides
edit_uri: edit/main/content/
docs_dir: content
theme:
  name: material
  font: false
  features: [navigation.prune]
  palette:
    - {media: "(prefers-color-scheme: light)", scheme: day, primary: custom, accent: custom,
       toggle: {icon: material/weather-night, name: Dark}}
    - {media: "(prefers-color-scheme: dark)", scheme: night, primary: custom, accent: custom,
       toggle: {icon: material/weather-sunny, name: Light}}
plugins:
  - search: {separator: '[\\s\\-\\\\(){}\\[\\]^_$,.=+*/|]+'}
  - everyline: {report: true}
validation: {nav: {omitted_files: ignore}}
"""

BOOK = {
    "book.yml": "title: Tides and timetables\nlog: natural\nlicense: CC BY 4.0\n",
    "index.md": "---\ntitle: Tides and timetables\n---\n# Tides and timetables\n\nA small book, with $F'(x) = f(x)$ in its text.\n",
    "below/index.md": "---\ntitle: Under the line\norder: 1\n---\n# Under the line\n\nWhere $x$ is below.\n",
    "below/ferry.md": """\
        ---
        question: \\int \\frac{x^2}{x+4} \\, dx
        key: \\frac{x^2}{2} - 4x + 16\\ln|x+4| + C
        title: A ferry that divides
        level: 2
        hints: ["Divide first: $x^2 = (x+4)(x-4) + 16$.", "Then each piece is in the table."]
        author: R. Okafor
        source: Harbour Lane Evening College
        license: CC BY 4.0
        ---

        See [the lock](lock.md), where $u = 2x + 7$.
        """,
    "below/lock.md": """\
        ---
        question: \\int (2x+7)^5 \\, dx
        key: \\frac{(2x+7)^6}{12} + C
        title: Filling the lock
        ---
        """,
    "below/wide.md": """\
        ---
        question: \\int (x^9 + 2x^8 - 3x^7 + 4x^6 - 5x^5 + 6x^4 - 7x^3 + 8x^2) \\, dx
        key: x^{10}/10 + \\frac29 x^9 - \\frac38 x^8 + \\frac47 x^7 - \\frac56 x^6 + \\frac65 x^5 - \\frac74 x^4 + \\frac83 x^3 + C
        title: A very long timetable
        level: 3
        ---
        """,
    "sets/low-water.md": """\
        ---
        title: Low water
        problems: [below/ferry, below/lock, below/wide]
        ---

        Decide first, then write.
        """,
    "lessons/round-the-harbour.md": """\
        ---
        title: Round the harbour
        minutes: 12
        ---

        You need paper.

        ```problem below/ferry
        minutes: 9
        predict: What is left over when you divide?
        say: Wait.
        ```

        ```set low-water
        minutes: 3
        ```
        """,
    "table/index.md": "---\ntitle: Straight from the table\norder: 2\n---\n",
    "table/half.md": """\
        ---
        question: \\int \\sec^2 x \\, dx
        key: ['\\tan x + C', '\\frac{\\sin x}{\\cos x} + C']
        domain: 0 < x < 1
        ---
        """,
    "table/strip.md": """\
        ---
        question: \\int_0^{\\pi/3} 4\\cos 2x \\, dx
        key: \\sqrt{3}
        title: A strip under a wave
        ---
        """,
    "table/slope.md": """\
        ---
        question: \\frac{d}{dx} \\left( x^2 \\sin 5x \\right)
        key: 2x \\sin 5x + 5x^2 \\cos 5x
        title: The slope of a product
        ---
        """,
    "table/wall.md": """\
        ---
        question: \\int_0^2 \\frac{7}{x^3} \\, dx
        key: \\text{diverges}
        title: Up the wall
        ---
        """,
}  # fmt: skip


def write(folder: Path, files: dict[str, str], settings: str = SETTINGS) -> None:
    """A book's files in `folder/content`, and the settings beside it."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "mkdocs.yml").write_text(settings, "utf-8")
    for name, text in files.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(dedent(text), "utf-8")


def mkdocs(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """MkDocs run in `folder`, as a person runs it."""
    environment = os.environ | {"NO_MKDOCS_2_WARNING": "1", "PYTHONIOENCODING": "utf-8"}
    command = [sys.executable, "-m", "mkdocs", *arguments]
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, encoding="utf-8", timeout=300, check=False)
