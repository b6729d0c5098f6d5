"""Prose from strangers' files: Markdown and formulas get through, nothing that could run does."""

from __future__ import annotations

from html.parser import HTMLParser
from urllib.parse import urlsplit

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from everyline.render.addresses import Addresses, Here
from everyline.render.prose import inline, prose

HERE = Here("tides/ferry.md", Addresses())


class Seen(HTMLParser):
    """The tags and attributes that a browser would see."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("*a* and **b**", "<p><em>a</em> and <strong>b</strong></p>"),
        ("It costs \\$5.", "<p>It costs $5.</p>"),
        ("Between $5 and $10", "<p>Between $5 and $10</p>"),
        ("`$a$`", "<p><code>$a$</code></p>"),
        ("See [it](lock.md) and [that](../table/half.md#answer).",
         '<p>See <a href="../lock/">it</a> and <a href="../../table/half/#answer">that</a>.</p>'),
        ("![A tide](tide.svg)", '<p><img alt="A tide" src="../tide.svg"></p>'),
        ("a < b & c", "<p>a &lt; b &amp; c</p>"),
    ],
)  # fmt: skip
def test_markdown_becomes_html(text: str, html: str) -> None:
    assert prose(text, HERE) == html


@pytest.mark.parametrize("text", ["Try $x^2_1$ now", "$$\\int_0^1 x\\,dx$$", "a $\\frac{a}{b}$, b"])
def test_tex_becomes_mathml_with_its_source_for_the_clipboard(text: str) -> None:
    seen = Seen(prose(text, HERE))
    assert "math" in seen.tags
    assert dict(seen.attributes)["data-tex"] == text.split("$$")[1] if "$$" in text else dict(seen.attributes)["data-tex"] in text
    assert "em" not in seen.tags


def test_tex_that_cannot_be_read_is_shown_as_written() -> None:
    assert "\\nosuchthing{x}" in prose("$\\nosuchthing{x}$", HERE)


def test_a_short_text_has_no_paragraph_around_it() -> None:
    assert inline("*a*", HERE) == "<em>a</em>"


ATTACKS = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "<div onclick=alert(1)>\n\nblock\n</div>",
    "[a](javascript:alert(1))",
    "[a](JaVaScRiPt:alert(1))",
    "[a](java\tscript:alert(1))",
    "[a](&#106;avascript:alert(1))",
    "[a](&amp;#106;avascript:alert(1))",
    "[a](javascript&colon;alert(1))",
    "[a](java&Tab;script:alert(1))",
    "[a](\x01javascript:alert(1))",
    "[a][1]\n\n[1]: javascript:alert(1)",
    "[a](data:text/html,<script>alert(1)</script>)",
    "<javascript:alert(1)>",
    "[a]($onmouseover=alert(1)$)",
    "![$x$](pic.svg '$onload=alert(1)$')",
    "[a](http://e.org/\"onmouseover=alert(1)//)",
    "<http://e.org/\" onclick=alert(1)>",
    "![a](//evil.example/x.png)",
    "![a](https://evil.example/x.png)",
    "$\\text{<script>alert(1)</script>}$",
    "$\\href{javascript:alert(1)}{x}$",
    "$x\" onload=\"alert(1)$",
    "a {: onclick=alert(1) }",
    "```html\n<script>alert(1)</script>\n```",
    "``` { onclick=alert(1) }\nx\n```",
    "| a |\n|---|\n| <b onclick=alert(1)>x</b> |",
]  # fmt: skip


def harmless(html: str) -> None:
    seen = Seen(html)
    assert not {"script", "iframe", "object", "embed", "style", "svg", "form", "input", "base", "link", "meta"} & set(seen.tags)
    for name, value in seen.attributes:
        assert not name.startswith("on"), html
        if name in ("href", "src"):
            squeezed = "".join(c for c in value if c > " ")
            assert urlsplit(squeezed).scheme.lower() in ("", "http", "https", "mailto"), html
        if name == "src":
            assert not urlsplit(value).scheme, html
            assert not urlsplit(value).netloc, html


@pytest.mark.parametrize("text", ATTACKS)
def test_nothing_that_runs_gets_through(text: str) -> None:
    harmless(prose(text, HERE))
    harmless(inline(text, HERE))


PIECES = st.sampled_from(
    ["<", ">", '"', "'", "[", "](", ")", "$", "`", "javascript:", "&#58;", "&Tab;", "onload=x", "<img src=", "<a href=", "!", "\\",
     "\x02", "\x03", "wzxhzdk:0", "klzzwxh:0", "\n", "//e.org", " ", "x", "[1]: ", "<script>", "{: onclick=x }", "stx", "|", "---"]
)  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(st.lists(PIECES, max_size=14).map("".join))
@example("[x](\x02wzxhzdk:0\x03)$a$")
def test_no_mixture_of_pieces_gets_through(text: str) -> None:
    harmless(prose(text, HERE))
