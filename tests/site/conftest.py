"""A small book built as a site, served on this machine, and looked at with a real browser."""

from __future__ import annotations

import functools
import http.server
import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest

#: A window without sandbox, graphics card or any wish to talk to other hosts.
FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-default-apps",
    "--disable-domain-reliability", "--disable-sync", "--no-first-run", "--metrics-recording-only", "--disable-features=OptimizationHints",
)  # fmt: skip

SETTINGS = """\
site_name: Tides and timetables
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
  - everyline
validation: {nav: {omitted_files: ignore}}
"""

BOOK = {
    "book.yml": "title: Tides and timetables\nlog: natural\nlicense: CC BY 4.0\n",
    "index.md": "---\ntitle: Tides and timetables\n---\n# Tides and timetables\n\nA small book, with $F'(x) = f(x)$ in its text.\n",
    "below/index.md": "---\ntitle: Under the line\norder: 1\nintroduces: [power]\n---\n# Under the line\n\nWhere $x$ is below.\n",
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

        See [the lock](lock.md). <script>document.title = "taken over"</script> <img src=x onerror="document.title='taken over'">
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
    "table/index.md": "---\ntitle: Straight from the table\norder: 2\nintroduces: []\n---\n",
    "table/half.md": """\
        ---
        question: \\int \\sec^2 x \\, dx
        key: \\tan x + C
        domain: 0 < x < 1
        ---
        """,
}  # fmt: skip


def write(folder: Path, files: dict[str, str]) -> None:
    """A book's files in `folder/content`, and the settings beside it."""
    (folder / "mkdocs.yml").write_text(SETTINGS, "utf-8")
    for name, text in files.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(dedent(text), "utf-8")


def mkdocs(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """MkDocs run in `folder`, as a person runs it."""
    environment = os.environ | {"NO_MKDOCS_2_WARNING": "1", "PYTHONIOENCODING": "utf-8"}
    command = [sys.executable, "-m", "mkdocs", *arguments]
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, encoding="utf-8", timeout=300, check=False)


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the small book's finished site."""
    folder = tmp_path_factory.mktemp("book")
    write(folder, BOOK)
    done = mkdocs(folder, "build", "--strict")
    assert done.returncode == 0, done.stderr
    return folder / "site"


@pytest.fixture(scope="session")
def serve() -> Iterator[Callable[[Path], str]]:
    """Serve a folder at an address of this machine; the address ends in `/`."""
    servers = []

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_: Any) -> None:
            pass

    def start(folder: Path) -> str:
        server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(folder)))
        threading.Thread(target=server.serve_forever, daemon=True).start()
        servers.append(server)
        return f"http://127.0.0.1:{server.server_port}/"

    yield start
    for server in servers:
        server.shutdown()


@pytest.fixture(scope="session")
def address(built: Path, serve: Callable[[Path], str]) -> str:
    return serve(built)


def browser_path() -> str | None:
    """A browser named by the environment, or one that the system has."""
    named = os.environ.get("EVERYLINE_BROWSER")
    names = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
    return named or next((found for name in names if (found := shutil.which(name))), None)


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    path = browser_path()
    if path is None:
        if os.environ.get("CI") == "true":
            pytest.fail("no browser: the pages were not looked at. Install Chromium or name one in EVERYLINE_BROWSER.")
        pytest.skip("NO BROWSER: the pages were not looked at. Install Chromium or name one in EVERYLINE_BROWSER.")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        yield opened
        opened.close()


@pytest.fixture
def look(browser: Any, address: str) -> Iterator[Callable[..., Any]]:
    """Open a page of the small book: `look("below/ferry/", width=320, scheme="dark", script=False)`."""
    contexts = []

    def open_page(path: str, *, width: int = 1280, scheme: str = "light", script: bool = True) -> Any:
        context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme, java_script_enabled=script)
        context.grant_permissions(["clipboard-read", "clipboard-write"])
        contexts.append(context)
        page = context.new_page()
        page.asked = []
        page.on("request", lambda request: page.asked.append(request.url))
        page.goto(address + path)
        page.wait_for_load_state("networkidle")
        return page

    yield open_page
    for context in contexts:
        context.close()
