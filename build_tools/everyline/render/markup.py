"""HTML as text: escaping, elements, folds and scrolling regions. Everything that reaches a page passes through here."""

from __future__ import annotations

import re
import unicodedata
from html import escape as _escape

#: Elements that never have content.
_VOID = frozenset(("br", "hr", "img", "link", "meta"))


def escape(text: str) -> str:
    """Plain text for use in HTML, also inside a quoted attribute."""
    return _escape(text, quote=True)


def element(name: str, /, *content: str, **attributes: str | bool | int | None) -> str:
    """One element. `content` is HTML; attribute values are plain text and are escaped here.

    `class_` and `for_` lose the underscore, others turn it into a hyphen; None and False leave an attribute out.
    """
    shown = "".join(
        f" {_attribute(key)}" if value is True else f" {_attribute(key)}={_quoted(str(value))}"
        for key, value in attributes.items()
        if value is not None and value is not False
    )
    if name in _VOID:
        return f"<{name}{shown}>"
    return f"<{name}{shown}>{''.join(content)}</{name}>"


def _quoted(value: str) -> str:
    """A value between quotes; where it has many of the usual ones (data for a script), between the others: it stays much shorter."""
    if value.count('"') > value.count("'"):
        return "'" + _escape(value, quote=False).replace("'", "&#x27;") + "'"
    return f'"{escape(value)}"'


def _attribute(key: str) -> str:
    return key.removesuffix("_").replace("_", "-")


def heading(content: str) -> str:
    """The title on a page. The search knows it already as the page's title."""
    return element("h1", content, data_search_exclude=1)


def fold(identity: str, summary: str, *content: str, kind: str = "", **more: str | bool) -> str:
    """A fold that works without a script, closed unless `open` is given. `summary` and `content` are HTML."""
    inside = element("div", *content, class_="ev-fold__body")
    return element("details", element("summary", summary), inside, id=identity, class_=f"ev-fold {kind}".strip(), **more)


def scrolling(content: str, label: str, kind: str = "") -> str:
    """A wide formula in a box of its own that scrolls sideways, also by keyboard."""
    return element("div", content, class_=f"ev-wide {kind}".strip(), tabindex=0, role="region", aria_label=label)


def slug(text: str) -> str:
    """A word for an `id` or an address: lower-case ASCII letters, digits and hyphens; never empty."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-") or "x"


def bare(title: str) -> str:
    """A title for places that take plain words only: its TeX without the dollars around it."""
    return re.sub(r"\$([^$]*)\$", r"\1", title)


def shorten(text: str, limit: int) -> str:
    """At most `limit` characters, cut between words."""
    text = " ".join(text.split())
    if len(text) <= limit:
        return text
    return text[: limit - 1].rsplit(" ", 1)[0] + "…"
