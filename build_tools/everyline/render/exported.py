"""The book as plain Markdown and files, for any site generator that is built on Python-Markdown: a book outlives the tools of its day."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping

from ..language import translator
from ..source.problem import Conventions
from .assets import FOLDER, Asset
from .page import Page
from .prose import written_out
from .scripts import SCRIPT
from .site import Site

#: Where the pages are, and the settings for generators that read those of MkDocs.
DOCS, SETTINGS = "docs", "mkdocs.yml"
_EXTENSIONS = ("admonition", "attr_list", "md_in_html", "pymdownx.details", "pymdownx.superfences", "tables")
_LIGHT, _DARK = ("light", "day", "material/weather-night"), ("dark", "night", "material/weather-sunny")


def exported(
    conventions: Conventions, made: Site, assets: Iterable[Asset], own: Mapping[str, str], other: Iterable[Asset]
) -> Iterator[Asset]:
    """Every file of the export, by its path in it.

    `assets` lie beside the pages of the site. `own` are the texts of the book's other Markdown files and of those that a page is set
    under, without their front matter, by path; `other` are the files of the content folder that are neither.
    """
    pages = {page.path: page for page in made.pages if page.kind != "report"}
    tell = translator(conventions.language)
    for path, page in pages.items():
        text = "" if page.lean else written_out(own.get(path, ""), tell)
        yield Asset(f"{DOCS}/{path}", _markdown(page, text).encode())
    for path, text in own.items():
        if path not in pages:
            yield Asset(f"{DOCS}/{path}", written_out(text, tell).encode())
    for each in (*other, *assets):
        yield Asset(f"{DOCS}/{each.path}", each.content)
    beside = [path for path in own if path not in pages and "/" not in path]
    yield Asset(SETTINGS, _settings(conventions, made, beside).encode())


def _markdown(page: Page, text: str) -> str:
    """A page: its settings, its author's text, and what was made of the book, as one block that Markdown leaves alone."""
    look = {name: value for name, value in page.look.items() if name != "template"}
    said = {"title": page.title, "description": page.words, "tags": list(page.tags), **look}
    if page.lean:
        said["hide"] = ["navigation", "toc"]
    front = "".join(f"{name}: {_yaml(value)}\n" for name, value in said.items() if value)
    return f"---\n{front}---\n\n{text.strip()}\n\n<div>\n{page.body}\n</div>\n".replace("\n\n\n\n", "\n\n")


def _settings(conventions: Conventions, made: Site, beside: Iterable[str]) -> str:
    navigation = [*({title: path} for title, path in made.navigation), *beside]
    palette = [
        {
            "media": f"(prefers-color-scheme: {mode})", "scheme": scheme, "primary": "custom", "accent": "custom",
            "toggle": {"icon": icon, "name": f"Switch from {scheme} colours"},
        }
        for mode, scheme, icon in (_LIGHT, _DARK)
    ]  # fmt: skip
    said: dict[str, object] = {
        "site_name": conventions.title,
        "site_url": conventions.address,
        "docs_dir": DOCS,
        # `lock.html` beside `lock.md`: an address in HTML then means the same to every generator, whether it looks at it or not
        "use_directory_urls": False,
        "theme": {"name": "material", "font": False, "language": conventions.language, "favicon": f"{FOLDER}/mark.svg", "palette": palette},
        "extra_css": [f"{FOLDER}/everyline.css"],
        "extra_javascript": [f"{FOLDER}/{SCRIPT}"],
        "markdown_extensions": list(_EXTENSIONS),
        "plugins": ["search"],
        "nav": navigation,
        "validation": {"nav": {"omitted_files": "ignore"}},
    }
    return "".join(f"{name}: {_yaml(value)}\n" for name, value in said.items() if value != "")


def _yaml(value: object) -> str:
    """JSON is YAML, but for a sign that JSON leaves as it is (YAML 1.2.2, section 1.2): so nothing but ASCII."""
    return json.dumps(value)
