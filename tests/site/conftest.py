"""A small book built as a site, served on this machine, and looked at with a real browser."""

from __future__ import annotations

import functools
import http.server
import os
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock
from small_book import BOOK, mkdocs, write

#: A window without sandbox, graphics card or any wish to talk to other hosts.
FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-default-apps",
    "--disable-domain-reliability", "--disable-sync", "--no-first-run", "--metrics-recording-only", "--disable-features=OptimizationHints",
)  # fmt: skip


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """The folder of the small book's finished site, built once for all processes of a test run."""
    base = tmp_path_factory.getbasetemp()
    folder = (base if worker_id == "master" else base.parent) / "small-book"
    with FileLock(f"{folder}.lock"):
        if not (folder / "site").is_dir():
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
