"""Whether a text of a German book has English in it: a sentence of ours that was forgotten, or one of the small words."""

from __future__ import annotations

import re
from functools import cache

from everyline.language import catalogue

#: The small words without which nobody writes an English sentence, and that German does not have.
FUNCTION_WORDS = re.compile(
    r"\b(?:the|of|and|is|are|with|where|which|every|this|that|to|your|from|be|been|it|its|for|not|on|by|here|there|what|how|you|no|yes|or"
    r"|one|line|answer|question|problem|method)\b",
    re.IGNORECASE,
)


def spaced(text: str) -> str:
    """A text as its words alone, each with a blank on both sides, so that “or” is not found in “Formel”."""
    return " ".join(("", *re.findall(r"\w+", text.lower()), ""))


@cache
def pieces() -> dict[str, str]:
    """The English between the `{named}` places of every sentence of the catalogue, with that sentence, unless German says it too."""
    german = "|".join(map(spaced, catalogue("de").values()))
    parts = {spaced(piece): english for english in catalogue("de") for piece in re.split(r"\{\w+\}", english)}
    return {piece: english for piece, english in parts.items() if re.search(r"[a-z]{2}", piece) and piece not in german}


def english(text: str) -> list[str]:
    """The English in a text: small words, and sentences of the catalogue."""
    words = spaced(text)
    return [*FUNCTION_WORDS.findall(text), *(sentence for piece, sentence in pieces().items() if piece in words)]
