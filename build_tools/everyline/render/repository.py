"""Where a book's files are kept for others to work on: the ways from its pages to there. Nothing where no place is known."""

from __future__ import annotations

import re
from dataclasses import dataclass
from urllib.parse import quote, urljoin, urlsplit

from .addresses import Here
from .markup import element

#: What a new file begins with.
_BLANK = "---\nquestion: \nkey: \ntitle: \nlevel: 1\n---\n"


@dataclass(frozen=True, slots=True)
class Repository:
    """`url` is its address; `edit` what goes between that and a file's path to edit the file (`edit/main/content/`), or a whole address.

    Both are as a site's settings give them; anything but http and https is no address.
    """

    url: str = ""
    edit: str = ""

    def edit_of(self, path: str) -> str:
        """The address at which a file is edited; empty where it is not known."""
        if not self.edit:
            return ""
        base = self.url if self.url.endswith("/") or self.edit.startswith(("?", "#")) else f"{self.url}/"
        return _address(urljoin(base, self.edit) + quote(path))

    def new_in(self, folder: str) -> str:
        """The address at which a file is begun in a folder; empty where the way to edit a file does not tell it.

        GitHub has `edit/` and `new/`, GitLab `-/edit/` and `-/new/`, Forgejo and Gitea `_edit/` and `_new/` (their documentation).
        """
        found = re.sub(r"(/_?)edit/", r"\1new/", self.edit_of(f"{folder}/"), count=1)
        if not found or found == self.edit_of(f"{folder}/"):
            return ""
        return f"{found.rstrip('/')}?filename=new-problem.md&value={quote(_BLANK)}"

    def report_of(self, here: Here) -> str:
        """The address at which somebody says what is wrong with a page; empty where there is no repository."""
        base, title = self.url.rstrip("/"), quote(here.tell("Something is wrong on {path}", path=here.path), safe="")
        if "-/" in self.edit or "gitlab" in urlsplit(base).netloc:
            return _address(f"{base}/-/issues/new?issue%5Btitle%5D={title}")
        return _address(f"{base}/issues/new?title={title}")

    def links(self, here: Here) -> str:
        """The ways from a problem's page: edit it, say what is wrong, add another problem."""
        return self._row(
            (here.tell("Edit this problem"), self.edit_of(here.path)),
            (here.tell("Report this page"), self.report_of(here)),
            (here.tell("Add a problem"), self._add(here.path)),
        )

    def page_links(self, here: Here) -> str:
        """The ways from any other page that has a file of its own."""
        return self._row((here.tell("Edit this page"), self.edit_of(here.path)), (here.tell("Report this page"), self.report_of(here)))

    def add_link(self, here: Here) -> str:
        """The way from a chapter's page."""
        return self._row((here.tell("Add a problem"), self._add(here.path)))

    def _add(self, path: str) -> str:
        return self.new_in(path.rpartition("/")[0])

    def _row(self, *ways: tuple[str, str]) -> str:
        made = [element("li", element("a", words, href=address, rel="noopener")) for words, address in ways if address]
        return element("ul", *made, class_="ev-ways", data_search_exclude=1) if made else ""


def _address(text: str) -> str:
    return text if re.fullmatch(r"https?://[^\s<>\"'`\\]+", text) else ""
