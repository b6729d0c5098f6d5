"""The words of a book in its language. English is written in the code; every other language is one catalogue, `<code>.po` (GNU gettext).

To add a language: copy `de.po`, translate what stands after `msgstr`, keep the `{named}` places. Nothing else is edited.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from babel.messages.pofile import read_po

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
    with (files(__package__) / f"{code}.po").open("rb") as file:
        return MappingProxyType({str(m.id): str(m.string) for m in read_po(file, code) if m.id and m.string})


@cache
def translator(code: str) -> Callable[[str], str]:
    """From an English sentence with its `{named}` places to the same in the language `code` (`de-AT` falls back on `de`).

    What the catalogue lacks stays English, so that nothing is ever left out of a page.
    """
    said = catalogue(code if code in languages() else code.replace("_", "-").partition("-")[0].lower())
    return lambda text: said.get(text, text)
