"""The words that the site's script says by itself: how formulas are spoken, why a text cannot be read, and what its buttons are called.

The script names them, `WORDS.again`; the build puts the text there. What belongs to one kind of page stands on that page instead, in
the data of the part that the script works with.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import asdict
from types import MappingProxyType

from ..notation import ENGLISH
from ..notation.message import Translate, sentence

_SAID = {
    # Why a text cannot be read.
    "empty": sentence("There is no formula here."),
    "unopened": sentence("This bracket closes nothing."),
    "unclosed": sentence("“{place}” is never closed."),
    "unfinished": sentence("The formula stops in the middle."),
    "too_large": sentence("This is too large or nested too deeply."),
    "number_after": sentence("A number stands directly after something. Write 2x, x^2 or x*2."),
    "undeclared": sentence("“{place}” is not known here. Use the letters of the question."),
    "differential": sentence("Each integral needs one dx, at its end."),
    "ambiguous": sentence("“{place}” can be read in several ways."),
    "unclear": sentence("“{place}” is not clear here."),
    "did_you_mean": sentence("Did you mean {word}?"),
    "write": sentence("Write {ways}."),
    # A family, and a set that is dealt.
    "again": sentence("New numbers"),
    "first": sentence("Back to the first question"),
    "place": sentence("Question {number} of {count}"),
    "single": sentence("One at a time"),
    "all": sentence("Show all"),
    "previous": sentence("Previous question"),
    "next": sentence("Next question"),
}
#: Every word in English, by its name in the script.
SCRIPT_WORDS: Mapping[str, str] = MappingProxyType(asdict(ENGLISH) | _SAID)
_NAMED = re.compile(r"\bWORDS\.(\w+)")
_PLACE = re.compile(r"\{(\w+)\}")


def with_words(source: str, tell: Translate) -> str:
    """A script with the words that it names, in the language that `tell` speaks."""
    return _NAMED.sub(lambda match: json.dumps(_numbered(SCRIPT_WORDS[match[1]], tell), ensure_ascii=False), source)


def _numbered(english: str, tell: Translate) -> str:
    """A template with its places numbered, ①②③④, in the order in which English has them: so the script fills every language alike."""
    order = list(dict.fromkeys(_PLACE.findall(english)))
    return _PLACE.sub(lambda match: "①②③④"[order.index(match[1])], tell(english))
