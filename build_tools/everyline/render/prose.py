"""Prose from problem files: Markdown with `$…$`, made safe.

A problem file may come from a stranger, so its prose is data. Raw HTML in it is shown as the text that it is, attribute lists are
not read, links may only go to pages or to the web, and pictures only to files of the book. Nothing in it can run.
"""

from __future__ import annotations

import functools
import re
from html import unescape
from urllib.parse import urlsplit
from xml.etree.ElementTree import Element

import markdown
from markdown.extensions import Extension
from markdown.inlinepatterns import InlineProcessor
from markdown.treeprocessors import Treeprocessor
from math_core import LatexError, LatexToMathML

from ..language import ENGLISH, Tell, translator
from .addresses import Here
from .markup import element, escape

_DOLLARS = r"(?<![\\$])\$\$(.+?)\$\$"
_DOLLAR = r"(?<![\\$])\$(?![\s$])([^$\n]*?[^\s$\\])\$(?![\d$])"
#: From this many characters on, a formula in a sentence may be wider than a small phone and scrolls in a box of its own.
_WIDE = 24
_TAG = re.compile(r"<[^>]*>")
_LINKS = ("", "http", "https", "mailto")
_PAGE_LINK = re.compile(r'(<a href=")(?!/)([^":?#]+\.md)(#[^"]*)?"')
_PICTURE = re.compile(r'(<img [^>]*src=")(?!/)([^":]+)"')
_STASHED = re.compile("\x02[^\x03]*\x03")


@functools.cache
def _converter() -> LatexToMathML:
    return LatexToMathML(fancy_error=False)


def teachers_mathml(source: str, *, display: bool = False) -> str:
    """A teacher's TeX as MathML.

    Raises:
        LatexError: it cannot be read.
    """
    return _converter().convert_with_local_state(source, displaystyle=display)


def tex(source: str, tell: Tell, *, display: bool = False) -> str:
    """A teacher's TeX as MathML; what cannot be read is shown as it was written."""
    try:
        made = teachers_mathml(source, display=display)
    except LatexError:
        return element("code", escape(source), class_="ev-unread", title=tell("This formula could not be read"))
    made = made.replace("<math", f'<math data-tex="{escape(source)}"', 1)
    if not display and len(_TAG.sub("", made)) < _WIDE:
        return made
    # A region is a landmark: too much for a formula in a sentence.
    kind, role = ("ev-wide", "region") if display else ("ev-wide ev-wide--inline", "group")
    return element("span", made, class_=kind, tabindex=0, role=role, aria_label=tell("Formula {tex}", tex=source))


class _Formula(InlineProcessor):
    """`$…$` in a line, or `$$…$$` as a display."""

    def __init__(self, pattern: str, md: markdown.Markdown, tell: Tell, *, display: bool) -> None:
        super().__init__(pattern, md)
        self.tell, self.display = tell, display

    # The parameter is called `m` in the class that this one stands in for.
    def handleMatch(self, m: re.Match[str], data: str) -> tuple[str, int, int]:  # type: ignore[override]
        return self.md.htmlStash.store(tex(m.group(1).strip(), self.tell, display=self.display)), m.start(0), m.end(0)


class Formulas(Extension):
    """A Python-Markdown extension: TeX between dollars becomes MathML. Code stays code, and `\\$` stays a dollar."""

    def __init__(self, language: str = ENGLISH) -> None:
        super().__init__()
        self.tell = translator(language)

    def extendMarkdown(self, md: markdown.Markdown) -> None:
        # Above backslash escapes (180), so that TeX keeps its backslashes; below code (190).
        md.inlinePatterns.register(_Formula(_DOLLARS, md, self.tell, display=True), "everyline-display", 186)
        md.inlinePatterns.register(_Formula(_DOLLAR, md, self.tell, display=False), "everyline-inline", 185)
        if "$" not in md.ESCAPED_CHARS:
            md.ESCAPED_CHARS = [*md.ESCAPED_CHARS, "$"]


#: What Markdown leaves as it is stands before the formulas: fenced blocks and code in a line.
_FORMULA = re.compile(
    rf"^(?P<fence>```+|~~~+).*?^(?P=fence)|(?P<ticks>`+)(?!`).+?(?<!`)(?P=ticks)(?!`)|{_DOLLARS}|{_DOLLAR}", re.DOTALL | re.MULTILINE
)
_SIGNS = re.compile(r"[\\`*_{}\[\]$!|~^]")


def written_out(text: str, tell: Tell) -> str:
    """Markdown of the book's owner with its formulas as MathML, so that it can be read without the extension above."""

    def made(found: re.Match[str]) -> str:
        display, line = found[3], found[4]
        if display is None and line is None:
            return found[0]
        whole = tex((display or line).strip(), tell, display=display is not None)
        return _SIGNS.sub(lambda sign: f"&#{ord(sign[0])};", whole)  # nothing in it is Markdown

    return _FORMULA.sub(made, text)


class _Harmless(Treeprocessor):
    """Takes away links that are not plain addresses, pictures that are not files of the book, and HTML kept back inside an attribute."""

    def run(self, root: Element) -> None:
        for part in root.iter():
            for name, value in tuple(part.items()):
                # A formula's place-holder would be filled in after escaping, and close the attribute's quotes.
                part.set(name, _STASHED.sub("", value))
            if part.tag == "a" and _scheme(part.get("href", "")) not in _LINKS:
                part.attrib.pop("href")
            if part.tag == "img" and (_scheme(part.get("src", "")) or part.get("src", "").startswith(("//", "\\"))):
                part.tag, part.text = "span", part.get("alt", "")
                part.attrib.clear()


def _scheme(address: str) -> str:
    """The scheme as a browser sees it: character references read (however often escaped), white space and controls ignored."""
    while (read := unescape(address)) != address:
        address = read
    try:
        return urlsplit(re.sub(r"[\x00-\x20\x7f]", "", address)).scheme.lower()
    except ValueError:
        return "unreadable"


class _Safe(Extension):
    def extendMarkdown(self, md: markdown.Markdown) -> None:
        md.preprocessors.deregister("html_block")
        md.inlinePatterns.deregister("html")
        # After backslash escapes (0) are put back, so that an address is seen as it will be written.
        md.treeprocessors.register(_Harmless(md), "everyline-harmless", -1)


@functools.cache
def _reader(language: str) -> markdown.Markdown:
    return markdown.Markdown(extensions=["fenced_code", "tables", "sane_lists", Formulas(language), _Safe()], output_format="html")


def prose(text: str, here: Here) -> str:
    """Markdown from the problem file of the page `here`, as harmless HTML. Links to `….md` files go to their pages."""
    reader = _reader(here.addresses.language)
    reader.reset()
    made = _PAGE_LINK.sub(lambda m: f'{m[1]}{here.beside(m[2])}{m[3] or ""}"', reader.convert(text))
    return _PICTURE.sub(lambda m: f'{m[1]}{here.file(m[2])}"', made)


def inline(text: str, here: Here) -> str:
    """One short text (a hint, a title) as HTML without the paragraph around it."""
    made = prose(text, here)
    single = made.startswith("<p>") and made.endswith("</p>") and made.count("<p>") == 1
    return made[3:-4] if single else made
