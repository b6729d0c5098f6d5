"""MkDocs as one of the faces of a book: puts the pages of `render.site` in place of the problem files."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from mkdocs.config.base import Config
from mkdocs.config.config_options import Type
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

from ..book import Book, read_and_build
from ..book.memory import open_memory
from ..book.release import published, today
from ..render.assets import FOLDER, assets, templates
from ..render.handouts import handouts
from ..render.prose import Formulas
from ..render.repository import Repository
from ..render.scripts import SCRIPTS
from ..render.site import Site, site
from ..source.load import BOOK_FILE
from .reporting import tell


class Options(Config):
    """`cache`: where the cut font is kept between builds, relative to the configuration file; `answers`: whether they are published;
    `report`: whether the teacher's report is a page, which no menu and no search leads to.
    """

    cache = Type(str, default=".everyline")
    answers = Type(bool, default=True)
    report = Type(bool, default=False)


class EverylinePlugin(BasePlugin[Options]):
    """Reads the problem files, has them proved, and hands their pages to MkDocs."""

    serving = False
    previous: Book | None = None

    def on_startup(self, *, command: str, dirty: bool) -> None:
        self.serving = command == "serve"

    def on_config(self, config: MkDocsConfig) -> None:
        """The theme in our clothes: templates after those of the site's owner, style, script, and formulas in prose."""
        config.theme.dirs.insert(1 if config.theme.custom_dir else 0, str(templates()))
        config.theme["favicon"] = f"{FOLDER}/mark.svg"
        config.extra_css.insert(0, f"{FOLDER}/everyline.css")
        config.extra_javascript += [f"{FOLDER}/{name}" for name in SCRIPTS]
        config.markdown_extensions.append(Formulas())  # type: ignore[arg-type]

    def on_files(self, files: Files, *, config: MkDocsConfig) -> None:
        cache = Path(config.config_file_path or ".").parent / self.config.cache
        content, memory = Path(config.docs_dir), open_memory(cache)
        self.previous, sources = read_and_build(content, workers=os.cpu_count() or 1, previous=self.previous, memory=memory)
        tell(self.previous, sources)
        if not self.previous.sound and not self.serving:
            raise Abort("Nothing was published: the book has errors, shown above.")
        try:
            shown = published(self.previous, today(os.environ), answers=self.config.answers, address=config.site_url or "")
        except ValueError as error:
            raise Abort(str(error)) from None
        kept = Repository(config.repo_url or "", config.edit_uri or "")
        made = site(shown, sources, folders=config.use_directory_urls, repository=kept, report=self.config.report, memory=memory)
        self.pages = {page.path: page for page in made.pages}
        place(made, files, config)
        for asset in (*assets(cache / "font"), *handouts(shown, made.worksheets, cache / "sheets")):
            files.append(File.generated(config, asset.path, content=asset.content))

    def on_page_markdown(self, markdown: str, *, page: Page, **_: Any) -> None:
        if made := self.pages.get(page.file.src_uri):
            page.meta = {"title": made.title, **made.look, **page.meta, "tags": list(made.tags)}
            page.edit_url = made.edit or page.edit_url

    def on_page_content(self, html: str, *, page: Page, **_: Any) -> str:
        made = self.pages.get(page.file.src_uri)
        return html + made.body if made else html


def place(made: Site, files: Files, config: MkDocsConfig) -> None:
    """Pages in place of the problem files. A chapter's or the front page's own file stays, and the page's body follows its text."""
    for page in made.pages:
        own = files.get_file_from_path(page.path)
        if own is not None and page.lean:
            files.remove(own)
        if own is None or page.lean:
            inclusion = InclusionLevel.NOT_IN_NAV if page.lean else InclusionLevel.UNDEFINED
            files.append(File.generated(config, page.path, content="", inclusion=inclusion))
    if settings := files.get_file_from_path(BOOK_FILE):
        files.remove(settings)
    if config.nav is None:
        known = {page.path for page in made.pages}
        others = [file.src_uri for file in files.documentation_pages() if file.src_uri not in known and "/" not in file.src_uri]
        config.nav = [{title: path} for title, path in made.navigation] + others
