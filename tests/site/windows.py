"""One window for many looks: a page is opened once, and again only when another was shown."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any


@contextmanager
def one_window(browser: Any, address: str) -> Iterator[Callable[[str], Any]]:
    context = browser.new_context()
    page = context.new_page()

    def at(path: str) -> Any:
        if page.url != address + path:
            page.goto(address + path)
        return page

    yield at
    context.close()
