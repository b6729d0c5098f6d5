"""The words of a book in its language. English is written in the code; every other language is one catalogue, `<code>.po` (GNU gettext).

To add a language: copy `de.po`, translate what stands after `msgstr`, keep the `{named}` places. Nothing else is edited.
"""

from __future__ import annotations

import datetime
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Protocol

# Babel is imported where it is used: a single key that is checked in English needs nothing of it, and it takes longer than the check.

ENGLISH = "en"


def languages() -> tuple[str, ...]:
    """The codes of the languages that a book can be in."""
    found = (file.name.removesuffix(".po") for file in files(__package__).iterdir() if file.name.endswith(".po"))
    return (ENGLISH, *sorted(found))


@cache
def catalogue(code: str) -> MappingProxyType[str, str]:
    """What is said in a language for each English sentence; empty for English and for a language that there is no catalogue of."""
    if code not in languages() or code == ENGLISH:
        return MappingProxyType({})
    from babel.messages.pofile import read_po

    with (files(__package__) / f"{code}.po").open("rb") as file:
        return MappingProxyType({str(m.id): str(m.string) for m in read_po(file, code) if m.id and m.string})


class Tell(Protocol):
    """Says an English sentence or label in one language; `values`, if there are any, go into its `{named}` places."""

    def __call__(self, text: str, /, **values: object) -> str: ...


def spoken(code: str) -> str:
    """The language that a book in the language `code` is written in by us: `de-AT` falls back on `de`, what is not known on English."""
    base = code.replace("_", "-").partition("-")[0].lower()
    return next((known for known in (code, base) if known in languages()), ENGLISH)


@cache
def translator(code: str) -> Tell:
    """How sentences are said in the language `code`.

    What the catalogue lacks stays English, so that nothing is ever left out of a page.
    """
    said = catalogue(spoken(code))

    def tell(text: str, /, **values: object) -> str:
        found = said.get(text, text)
        return found.format_map(values) if values else found

    return tell


def day(text: str, code: str) -> str:
    """`2027-03-01` as people write it: `1 March 2027`, `1. März 2027`."""
    from babel.dates import format_date

    return format_date(datetime.date.fromisoformat(text), "long", _locale(code))


def number(text: str, code: str) -> str:
    """A number as Python writes it (`1,234.5`) with the marks of a language: `1.234,5`."""
    from babel.numbers import get_decimal_symbol, get_group_symbol

    marks = {",": get_group_symbol(_locale(code)), ".": get_decimal_symbol(_locale(code))}
    return "".join(marks.get(letter, letter) for letter in text)


def percent(share: float, code: str) -> str:
    """A share as whole per cent: `45%`, `45 %`."""
    from babel.numbers import format_percent

    return format_percent(share, locale=_locale(code))


def _locale(code: str) -> str:
    # English texts are in British spelling, and so are their days.
    return "en_GB" if spoken(code) == ENGLISH else spoken(code)
