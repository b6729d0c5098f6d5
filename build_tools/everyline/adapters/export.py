"""A whole book as plain Markdown and files: any generator that reads Python-Markdown builds it, without everyline.

A page is a title and its finished HTML in one block; what a teacher wrote stays Markdown, its formulas set. Addresses end in `/`.
"""

from __future__ import annotations

import json
import re
from pathlib import Path, PurePosixPath

from ..render.assets import FOLDER, Asset
from ..render.page import Page
from ..render.prose import with_formulas
from ..render.scripts import SCRIPT
from ..render.site import Site
from ..source.load import BOOK_FILE

_HEAD = re.compile(r"\A\ufeff?---[ \t]*\r?\n(?P<front>.*?\r?\n)?---[ \t]*(?:\r?\n|\Z)", re.DOTALL)


def export(content: Path, made: Site, assets: tuple[Asset, ...], title: str, target: Path) -> int:
    """Write the book into the folder `target`, which must be new or empty, and return the number of pages.

    Raises:
        FileExistsError: there is something in the folder.
        OSError: it could not be written.
    """
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise FileExistsError(f"{target} is not an empty folder")
    docs = target / "docs"
    for asset in assets:
        _write(docs / asset.path, asset.content)
    for page in made.pages:
        own = content / page.path
        text = "" if page.lean or not own.is_file() else own.read_text("utf-8", errors="replace")
        _write(docs / page.path, _page(page, text).encode())
    pages = {page.path for page in made.pages}
    others = []
    for file in sorted(content.rglob("*")):
        path = file.relative_to(content).as_posix()
        hidden = any(part.startswith((".", "_")) for part in PurePosixPath(path).parts)
        if hidden or not file.is_file() or file.is_symlink() or path in pages or path == BOOK_FILE:
            continue
        if file.suffix == ".md":
            others.append(path)
            _write(docs / path, with_formulas(file.read_text("utf-8", errors="replace")).encode())
        else:
            _write(docs / path, file.read_bytes())
    _write(target / "mkdocs.yml", _settings(title, made, others).encode())
    return len(pages) + len(others)


def _page(page: Page, own: str) -> str:
    text = with_formulas(_HEAD.sub("", own)).strip()
    # JSON is YAML 1.2: a title can hold anything
    look = "hide: [navigation, toc]\n" if page.lean else "hide: [toc]\n"
    return (
        f'---\ntitle: {json.dumps(page.title, ensure_ascii=False)}\n{look}---\n\n{text}\n\n<div class="everyline">\n{page.body}\n</div>\n'
    )


def _settings(title: str, made: Site, others: list[str]) -> str:
    nav = [{name: path} for name, path in made.navigation] + [path for path in others if "/" not in path]
    settings = {
        "site_name": title,
        "theme": {"name": "material", "font": False, "features": ["navigation.prune"]},
        "markdown_extensions": ["admonition", "attr_list", "md_in_html", "tables"],
        "extra_css": [f"{FOLDER}/everyline.css"],
        "extra_javascript": [f"{FOLDER}/{SCRIPT}"],
        "nav": nav,
        "validation": {"nav": {"omitted_files": "ignore"}},
    }
    return json.dumps(settings, ensure_ascii=False, indent=2) + "\n"


def _write(file: Path, data: bytes) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)
