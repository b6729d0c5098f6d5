"""MkDocs as one of the faces of a book: puts the pages of `render.site` in place of the problem files."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import Any

from mkdocs.config.base import Config
from mkdocs.config.config_options import Type
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

from ..render.addresses import Addresses
from .dressing import dress
from .making import Found, make, wanted
from .placing import Placing, can_be_placed, content, navigation, place
from .reporting import stopping
from .serving import Live
from .swapping import Whole


class Options(Config):
    """`cache`: where things are kept between builds (relative to the settings); `answers`: whether they are published; `report`:
    whether the teacher's report is a page, which no menu and no search leads to."""

    cache, answers, report = Type(str, default=".everyline"), Type(bool, default=True), Type(bool, default=False)


class EverylinePlugin(BasePlugin[Options]):
    """Reads the problem files, has them proved, and hands their pages to MkDocs."""

    serving = False
    target: Whole | Live | None = None
    found: Found | None = None

    def on_startup(self, *, command: str, dirty: bool) -> None:
        self.serving = command == "serve"

    @event_priority(100)  # before the search asks for the language
    def on_config(self, config: MkDocsConfig) -> None:
        dress(config)
        self.target = self.target or (Live if self.serving else Whole)(Path(config.site_dir))
        config.site_dir = str(self.target.begin())

    def on_files(self, files: Files, *, config: MkDocsConfig) -> None:
        try:
            self.found = make(wanted(config, self.config), self.found, faulty=self.serving)
        except ValueError as error:
            raise Abort(str(error)) from None
        made = self.found.site
        self.placing = Placing(tuple(page for page in made.pages if can_be_placed(page)), Addresses(config.use_directory_urls))
        self.pages = {page.path: page for page in (*made.pages, *self.placing.wanted())}
        place(made, self.placing, files, functools.partial(new_file, config))
        config.nav = config.nav or navigation(made, files)
        for asset in self.found.assets:
            files.append(File.generated(config, asset.path, content=asset.content))

    def on_env(self, env: Any, *, config: MkDocsConfig, **_: Any) -> None:
        env.bytecode_cache = self.target.compiled if isinstance(self.target, Live) else None
        search: Any = config.plugins.get("material/search") or config.plugins.get("search")
        for page in self.placing.found() if search else ():
            search.search_index.add_entry_from_context(page)

    def on_page_markdown(self, markdown: str, *, page: Page, **_: Any) -> None:
        if made := self.pages.get(page.file.src_uri):
            said = {"description": made.words} if made.words else {}
            page.meta = {"title": made.title, **said, **made.look, **page.meta, "tags": list(made.tags)}
            page.edit_url = made.edit or page.edit_url

    def on_page_content(self, html: str, *, page: Page, **_: Any) -> str:
        made = self.pages.get(page.file.src_uri)
        return html + content(made) if made else html

    def on_post_page(self, output: str, *, page: Page, **_: Any) -> str:
        made = self.pages.get(page.file.src_uri)
        return self.placing.taken(made, output) if made else output

    def on_post_template(self, output: str, *, template_name: str, config: MkDocsConfig) -> str:
        return self.placing.in_sitemap(output, config.site_url or "") if template_name == "sitemap.xml" else output

    @event_priority(-100)  # after the search has written its index
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        if self.target and not stopping():
            config.site_dir = str(self.target.finish(self.placing))

    def on_build_error(self, **_: Any) -> None:
        if self.target:
            self.target.drop()


def new_file(config: MkDocsConfig, path: str, lean: bool) -> File:
    return File.generated(config, path, content="", inclusion=InclusionLevel.NOT_IN_NAV if lean else InclusionLevel.UNDEFINED)
