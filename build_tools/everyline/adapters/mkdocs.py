"""MkDocs as one of the faces of a book: puts the pages of `render.site` in place of the problem files."""

from __future__ import annotations

import logging
import sys
from pathlib import Path
from typing import Any

from mkdocs.config.base import Config
from mkdocs.config.config_options import Type
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

from .. import book, diagnostics
from ..render.assets import FOLDER, assets, templates
from ..render.prose import Formulas
from ..render.site import Page as Made
from ..render.site import Site, site

log = logging.getLogger("mkdocs.plugins.everyline")


class Options(Config):
    """`cache`: where the cut font and what was proved are kept between builds, relative to the configuration file."""

    cache = Type(str, default=".everyline")


class EverylinePlugin(BasePlugin[Options]):
    """Reads the problem files, has them proved, and hands their pages to MkDocs."""

    def __init__(self) -> None:
        self._serving = False
        self._pages: dict[str, Made] = {}

    def on_startup(self, *, command: str, dirty: bool) -> None:
        self._serving = command == "serve"

    def on_config(self, config: MkDocsConfig) -> None:
        dress(config)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> None:
        cache = Path(config.config_file_path or ".").parent / self.config.cache
        made = site(examined(Path(config.docs_dir), cache, serving=self._serving), folders=config.use_directory_urls)
        self._pages = place(made, files, config)
        for asset in assets(cache / "font"):
            files.append(File.generated(config, asset.path, content=asset.content))

    def on_page_markdown(self, markdown: str, *, page: Page, **_: Any) -> str:
        made = self._pages.get(page.file.src_uri)
        if made is not None:
            look = {"template": "problem.html"} if made.lean else {"hide": ["toc"]}
            page.meta = {"title": made.title, **look, **page.meta, "tags": list(made.tags)}
        return markdown

    def on_page_content(self, html: str, *, page: Page, **_: Any) -> str:
        made = self._pages.get(page.file.src_uri)
        return html if made is None else html + made.body


def dress(config: MkDocsConfig) -> None:
    """The theme in our clothes: templates after those of the site's owner, style, script, and formulas in prose."""
    config.theme.dirs.insert(1 if config.theme.custom_dir else 0, str(templates()))
    config.theme["favicon"] = f"{FOLDER}/mark.svg"
    config.extra_css.insert(0, f"{FOLDER}/everyline.css")
    config.extra_javascript.append(f"{FOLDER}/everyline.js")
    config.markdown_extensions.append(Formulas())  # type: ignore[arg-type]


def examined(content: Path, cache: Path, *, serving: bool) -> book.Book:
    """The book, proved. Without a person watching, one error ends the build after all of them are shown."""
    made, sources = book.read_and_build(content, cache)
    errors = [fault for fault in made.diagnostics if fault.severity == "error"]
    for fault in made.diagnostics:
        text = diagnostics.text(fault, sources)
        if fault.severity == "warning":
            log.warning(text)
        else:
            print(text, file=sys.stderr)
    if errors and not serving:
        raise Abort(f"everyline: {len(errors)} to mend, so nothing was published.")
    return made


def place(made: Site, files: Files, config: MkDocsConfig) -> dict[str, Made]:
    """Pages in place of the problem files. A chapter's or the front page's own file stays, and the page's body follows its text."""
    for page in made.pages:
        own = files.get_file_from_path(page.path)
        if own is not None and not page.lean:
            continue
        if own is not None:
            files.remove(own)
        inclusion = InclusionLevel.NOT_IN_NAV if page.lean else InclusionLevel.UNDEFINED
        files.append(File.generated(config, page.path, content="", inclusion=inclusion))
    settings = files.get_file_from_path("book.yml")
    if settings is not None:
        files.remove(settings)
    if config.nav is None:
        known = {page.path for page in made.pages}
        others = [f.src_uri for f in files.documentation_pages() if f.src_uri not in known and "/" not in f.src_uri]
        config.nav = [{title: path} for title, path in made.navigation] + others
    return {page.path: page for page in made.pages}
